"""From a meaning to what the network learns: the frame (which orders), and for each word the slot that it fills."""
import json

# Slots that tell orders apart by themselves, so that they belong to the frame.
CONSTANT = {("keep", "how"), ("caution", "about"), ("convert_temperature", "from"), ("convert_temperature", "to"), ("preferment", "kind"),
            ("repeat", "slowly")}
NUMBERS = {"count", "step", "portions", "percent", "number", "flour", "dough", "each", "have", "mass", "flour_g", "grams", "room_c", "core_c", "dough_g",
           "each_g", "part_g", "whole_g", "baked_g", "dough_c", "flour_c", "water_c", "hydration", "size", "part"}
TIMES = {"lasts", "by", "in", "left", "at"}


def parts(order):
    """The order's head for the frame, and its slots in order."""
    intent, slots = order["intent"], dict(order.get("slots", {}))
    head = intent
    if intent == "ask":
        head = "ask." + slots.pop("question")
    if intent == "scale":
        by = slots.pop("by")
        if by == "as_written":
            head += ".as_written"
        else:
            kind, value = next(iter(by.items()))
            head += "." + kind
            if kind == "factor":
                head += f"={value:g}"
            elif kind == "tin":
                head += "." + value["shape"]
                slots = {"size": value["size_cm"]}
            elif isinstance(value, dict):
                slots = dict(value)
            else:
                slots = {kind: value}
    plain = head.removeprefix("ask.")
    for k in list(slots):
        if (plain, k) in CONSTANT:
            head += f";{k}={json.dumps(slots.pop(k)).strip(chr(34))}"
    if "at" in slots and isinstance(slots["at"], dict):
        slots["clock"] = slots.pop("at")
    return head, slots


def frame(meaning):
    if isinstance(meaning, str):
        return meaning
    heads = [parts(o)[0] for o in meaning]
    out = []
    for h in heads:
        if h in ("mark_added", "how_much") and out and out[-1].rstrip("*") == h:
            out[-1] = h + "*"
        else:
            out.append(h)
    return "+".join(out)


def stem(w):
    for ending in ("ing", "ed", "es", "s", "e"):
        if w.endswith(ending) and len(w) - len(ending) >= 3:
            return w[: -len(ending)]
    return w


EMPTY = {"the", "a", "an", "of", "my", "to", "it", "at", "in"}


def fuzzy(value, words, used, stretch):
    """The stretch of words that says a free text, as far as its own words come."""
    want = [stem(w) for w in value.lower().replace("-", " ").split() if w not in EMPTY] or [stem(value)]
    hits = [k for k, w in enumerate(words) if stem(w) in want and k not in used]
    if not hits or len({stem(words[k]) for k in hits}) * 2 < len(set(want)):
        return None
    best = None
    for a in hits:
        for b in hits:
            if a <= b <= a + len(want) + (3 if stretch else 1):
                inside = {stem(words[k]) for k in hits if a <= k <= b}
                score = (len(inside), -(b - a))
                if best is None or score > best[0]:
                    best = (score, a, b + 1)
    return best[1:]


def near(a, b):
    return abs(a - b) <= 1e-6 * max(1.0, abs(b))


def numeric(slot, value, found):
    """Finds that have this number, the fullest first."""
    out = []
    for f in found:
        v, kind = f["value"], f["kind"]
        if kind == "amount" and slot not in ("step", "portions", "count"):
            grams = {"g": 1, "kg": 1000, "oz": 28.349523125, "lb": 453.59237}.get(v[1])
            if near(v[0], value) or grams and abs(v[0] * grams - value) < 0.6:
                out.append((3, f))
        elif kind in ("percent", "heat", "fraction"):
            if near(v[0] if isinstance(v, list) else v, value):
                out.append((2, f))
        elif kind == "number" and near(v, value) or kind == "step" and slot == "step" and near(v, value):
            out.append((1 if kind == "number" else 2, f))
    return [f for _, f in sorted(out, key=lambda x: -x[0])]


def align(meaning, words, found):
    """A slot's name for each word, None where it fills none; and whether every slot was found in the words."""
    tags, used, whole = [None] * len(words), set(), True
    if isinstance(meaning, str):
        return tags, True

    def take(f, t, slot):
        for k in range(f, t):
            if tags[k] is None:
                tags[k] = slot
                used.add(k)

    for order in meaning:
        _, slots = parts(order)
        for slot, value in slots.items():
            place = None
            free = lambda f: not any(k in used for k in range(f["from"], f["to"]))
            if slot in TIMES and isinstance(value, (int, float)):
                fs = [f for f in found if f["kind"] == "duration" and near(f["value"], value) and free(f)]
                fs += [f for f in found if f["kind"] == "number" and near(f["value"] * 60000, value) and free(f)]
                place = fs[0] if fs else None
            elif slot == "clock":
                fs = [f for f in found if f["kind"] == "clock" and f["value"]["hour"] % 12 == value["hour"] % 12 and f["value"]["minute"] == value["minute"] and free(f)]
                place = max(fs, key=lambda f: f["to"] - f["from"]) if fs else None
            elif slot == "size":
                for n in value:
                    fs = [f for f in numeric(slot, n, found) if free(f)]
                    if fs:
                        take(fs[0]["from"], fs[0]["to"], slot)
                    else:
                        whole = False
                continue
            elif slot in NUMBERS and isinstance(value, (int, float)):
                fs = [f for f in numeric(slot, value, found) if free(f)]
                place = fs[0] if fs else None
            elif slot == "unit" or slot in ("from", "to"):
                fs = [f for f in found if f["kind"] == "unit" and f["value"] == value and free(f)]
                place = fs[-1] if fs else None
                if slot == "from" and not fs:
                    continue  # it stands inside the amount
            elif isinstance(value, str):
                kinds = {"ingredient": ("own", "stuff"), "timer": ("timer",), "name": (), "of": ("stuff",), "with": ("stuff",), "food": ("food",), "what": ("stuff",)}.get(slot, ())
                fs = [f for f in found if f["kind"] in kinds and f["value"] == value and free(f)]
                if fs:
                    place = fs[0]
                else:
                    at = fuzzy(value, words, used, slot in ("say", "text"))
                    place = {"from": at[0], "to": at[1]} if at else None
            if place is None:
                # A timer or an ingredient that is not named is the one that the situation tells.
                whole = whole and slot in ("timer", "ingredient")
            else:
                take(place["from"], place["to"], slot)
    return tags, whole
