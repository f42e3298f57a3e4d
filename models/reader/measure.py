"""Measures the reader on lines by writers that it never saw, and writes the page of figures.

    python3 models/reader/measure.py READ... [--page models/reader/FIGURES.md]

READ: what `examples/reader.rs` made of corpus lines with the weights. The strict grammar goes first, as in a session.
Beside this file: `second.tsv`, id TAB the names of the orders by a second reader; `corpus`, what the network was trained on.
"""
import argparse
import collections
import json
import pathlib
import re

from labels import EMPTY, stem

# Units of one quantity: of what it is of makes no difference there.
ALIKE_UNITS = ({"g", "kg", "oz", "lb", "mg"}, {"ml", "l", "dl", "cl", "tsp", "tbsp", "cup", "fl oz", "pint", "quart"})
FIRST_LANGUAGE = re.compile(r"first language ([^,;)]+)", re.I)


def stems(text):
    return frozenset(stem(w) for w in str(text).lower().replace("-", " ").replace("'", "").split() if w not in EMPTY and w != "timer")


def alike(a, b):
    """Two free texts that say the same thing."""
    return a == b or isinstance(a, frozenset) and isinstance(b, frozenset) and 2 * len(a & b) >= min(len(a), len(b)) > 0


def the_timer(name, s):
    """The timer that an order is for in its situation."""
    all = [t["name"] for t in s.get("timers", [])] + ([s["rings"]] if s.get("rings") else [])
    if name is not None:
        for t in all:
            if t == name or stems(t) & stems(name):
                return t
        return name
    asked = (s.get("asked") or {}).get("timer")
    last = ((s.get("last") or {}).get("order") or {}).get("slots", {}).get("timer")
    return s.get("rings") or asked or (all[0] if len(all) == 1 else last)


def canonical(orders, s, formula):
    """Orders as what they do, so that two names of one deed are equal."""
    out, step = [], s.get("step")
    asked = s.get("asked") or {}
    for order in orders:
        name, slots = order["intent"], dict(order.get("slots", {}))
        if name == "ask":
            name = "ask." + slots.pop("question")
        if name == "ask.eggs":
            name, slots = "ask.mass_of", {"number": slots.get("number", 1), "ingredient": "egg white" if slots.get("part") == "white" else "egg"}
        if name == "ask.convert" and any({str(slots.get(k)).removeprefix("us ").removeprefix("uk ") for k in ("from", "to")} <= units for units in ALIKE_UNITS):
            slots.pop("ingredient", None)
        if name == "mark_added" and "also" in slots:
            out += [(name, {"ingredient": i}) for i in slots.pop("also")]
        if name == "done" and s.get("weighing"):
            name, slots = "mark_added", {"ingredient": s["weighing"]}
        if asked.get("kind") == "look" and (name in ("no", "not_yet") or name == "needs_longer" and not slots.get("by")):
            name, slots = "not_yet", {}
        if name == "needs_longer" and slots.get("by") and the_timer(None, s):
            name = "add_time"
        if name in ("go_to_step", "tell_step") and step:
            near = {("go_to_step", step + 1): "next", ("go_to_step", step - 1): "back", ("tell_step", step + 1): "what_next", ("tell_step", step): "read_step"}
            if (name, slots.get("step")) in near:
                name, slots = near[name, slots["step"]], {}
        if name == "start_timer" and "lasts" not in slots and slots.get("name") and alike(stems(slots["name"]), stems(formula.get(step) or "-")):
            name, slots = "start_offered", {}
        if name == "start_timer" and asked.get("kind") == "how_long" and asked.get("timer"):
            slots["name"] = asked["timer"]
        if asked.get("kind") == "confirm" and name == "yes":
            name, slots = asked["order"]["intent"], dict(asked["order"].get("slots", {}))
        if s.get("rings") and name in ("stop_talking", "hang_on"):
            name = "stop_chime"
        if s.get("state") == "reading" and name == "hang_on":
            name = "stop_talking"
        if name == "what_next" and s.get("weighing"):
            name = "weigh_next"
        if name in ("time_left", "time_gone", "ready_when", "add_time", "take_time", "pause_timer", "resume_timer", "restart_timer", "stop_timer", "add_cue", "rename_timer"):
            slots["timer"] = the_timer(slots.get("timer"), s)
        got = {}
        for k, v in slots.items():
            if v is None or v == "":
                continue
            if k in ("name", "say", "text", "of", "with", "what", "food", "timer") or k == "ingredient" and name.startswith("ask."):
                v = stems(v)
            elif isinstance(v, dict) and "hour" in v:
                v = (v["hour"] % 12, v["minute"])
            elif isinstance(v, (int, float)) and not isinstance(v, bool):
                v = round(float(v), 1)
            elif isinstance(v, dict):
                v = json.dumps(v, sort_keys=True).replace(".0", "")
            elif isinstance(v, str):
                v = v.removeprefix("us ").removeprefix("uk ")
            got[k] = v
        out.append((name, got))
    return out


def same(a, b):
    if len(a) != len(b):
        return False
    rest = list(b)
    for name, slots in a:
        for k, (other, others) in enumerate(rest):
            if name == other and set(slots) == set(others) and all(alike(slots[x], others[x]) for x in slots):
                del rest[k]
                break
        else:
            return False
    return True


def timers():
    import kitchens
    return {f.id: {n: s.timer[0] if s.timer else None for n, s in enumerate(f.steps, 1)} for f in kitchens.FORMULAS}


TIMERS = timers()


def judge(row):
    """What was done with a line: (deed, right)."""
    s, meaning = row["situation"], row["meaning"]
    formula = TIMERS[s["formula"]]
    wanted = None if isinstance(meaning, str) else canonical(meaning, s, formula)
    strict = row.get("strict")
    verdict = row.get("verdict") or {"kind": "unknown", "orders": []}
    if strict and "orders" in strict:
        kind, options = "act", [strict["orders"]]
    elif strict and "cut_off" in strict:
        kind, options = "unknown", [[]]
    elif strict and "all" in strict:
        kind, options = "ask", [strict["all"]]
    elif strict and "readings" in strict:
        kind, options = "ask", [[r] for r in strict["readings"]]
    else:
        kind, options = verdict["kind"], [verdict["orders"]]
    right = wanted is not None and kind in ("act", "ask") and any(same(wanted, canonical(o, s, formula)) for o in options)
    return kind, right


def figures(rows):
    n = collections.Counter()
    for r in rows:
        kind, right = r["judged"]
        what = r["meaning"] if isinstance(r["meaning"], str) else "order"
        n[what] += 1
        n[what, kind, right] += 1
    orders, talk = max(1, n["order"]), max(1, n["talk"])
    return {"lines": n["order"], "right": (n["order", "act", True] + n["order", "ask", True]) / orders, "at once": n["order", "act", True] / orders,
            "wrong": n["order", "act", False] / orders, "asked wrong": n["order", "ask", False] / orders, "talk": n["talk"],
            "talk acted": n["talk", "act", False] / talk, "talk asked": n["talk", "ask", False] / talk,
            "wishes": n["wish"], "wish told": n["wish", "wish", False] / max(1, n["wish"]), "wish acted": n["wish", "act", False] / max(1, n["wish"])}


def percent(x):
    return f"{100 * x:.1f} %"


def table(name, groups):
    out = [f"| {name} | orders | right | of it at once | acted on wrongly | asked wrongly |", "|---|---|---|---|---|---|"]
    for g, rows in groups:
        f = figures(rows)
        if f["lines"]:
            out.append(f"| {g} | {f['lines']} | {percent(f['right'])} | {percent(f['at once'])} | {percent(f['wrong'])} | {percent(f['asked wrong'])} |")
    return out + [""]


def grouped(rows, key):
    by = collections.defaultdict(list)
    for r in rows:
        by[key(r)].append(r)
    return sorted(by.items())


HERE = pathlib.Path(__file__).resolve().parent
HEAD = ["# Figures of the reader", "", "`models/reader/measure.sh` writes this page. `README.md` tells what is measured and how the limits were chosen.", ""]


def first_language(r):
    """The first language of whom the writer played; nothing where that is not told."""
    told = FIRST_LANGUAGE.search(r.get("persona", ""))
    return told and told[1].strip()


def english(r):
    language = first_language(r)
    return "from home" if "english" in language.lower() else "learned beside another language"


def corpus():
    """How large the corpus is, and how often a second reader, who saw the lines and their situations but not the key, named the same orders."""
    rows = [json.loads(line) for path in (HERE / "corpus").glob("*.jsonl") for line in path.open()]
    meant = {r["id"]: {r["meaning"]} if isinstance(r["meaning"], str) else {o["intent"] for o in r["meaning"]} for r in rows}
    pairs = [(meant[i], set(names.split("+"))) for i, names in (l.rstrip("\n").split("\t")[:2] for l in (HERE / "second.tsv").open()) if i in meant]
    same = sum(a == b for a, b in pairs)
    talk = sum((a == {"talk"}) != (b == {"talk"}) for a, b in pairs)
    trained = (f"The corpus: {len(rows)} lines by {len({r['writer'] for r in rows})} writers, {sum(r['meaning'] == 'talk' for r in rows)} of them talk; beside the "
               "writers that are kept away.")
    return [trained, "", f"A second reader, who saw the lines and their situations but not the key, named the same orders for {percent(same / len(pairs))} of {len(pairs)} lines of the "
            f"corpus, and disagreed about what is talk in {talk}. Most of the rest are two names of one deed (`done` and `mark_added` of what is waited for, "
            "`needs_longer` and `add_time` of what rings), which the measure counts as equal.", ""]


def main():
    a = argparse.ArgumentParser()
    a.add_argument("read", type=pathlib.Path, nargs="+")
    a.add_argument("--page", type=pathlib.Path)
    a.add_argument("--title", default="Writers that the network never saw")
    a.add_argument("--wrong", type=pathlib.Path, help="writes what went wrong here")
    a = a.parse_args()
    rows = [json.loads(l) for p in a.read for l in p.open()]
    for r in rows:
        r["judged"] = judge(r)
    bare = [dict(r, judged=judge({**r, "verdict": None})) for r in rows]
    f, b = figures(rows), figures(bare)
    out = [*HEAD, f"## {a.title}", "", f"{len({r['writer'] for r in rows})} writers, {len(rows)} lines: {f['lines']} orders, {f['talk']} of talk, {f['wishes']} wishes. Text, with the situation given; "
           "the strict grammar first. 'Right' counts what was done at once and what was asked about by its right name.", "",
           "| | orders right | of it at once | acted on wrongly | asked wrongly | talk acted on | talk asked about | wishes told so | wishes acted on |", "|---|---|---|---|---|---|---|---|---|"]
    for name, g in (("with the reader", f), ("strict grammar alone", b)):
        out.append(f"| {name} | {percent(g['right'])} | {percent(g['at once'])} | {percent(g['wrong'])} | {percent(g['asked wrong'])} | {percent(g['talk acted'])} | {percent(g['talk asked'])} | {percent(g['wish told'])} | {percent(g['wish acted'])} |")
    micros = sorted(r["micros"] for r in rows if "micros" in r)
    if micros:
        out += ["", f"Time a line: median {micros[len(micros) // 2] / 1000:.1f} ms, 95th percentile {micros[len(micros) * 95 // 100] / 1000:.1f} ms."]
    out += [""] + table("topic", grouped(rows, lambda r: r["topic"])) + table("writer", grouped(rows, lambda r: f"{r['writer']} {r.get('persona', '')}".strip()))
    size = lambda r: min(4, (len(r["text"].split()) - 1) // 4)
    out += table("words", [(["1-4", "5-8", "9-12", "13-16", "17 and more"][k], g) for k, g in grouped(rows, size)])
    told = [r for r in rows if first_language(r)]
    if told:
        out += table("English", grouped(told, english)) + table("first language", grouped(told, first_language))
    out += corpus()
    page = "\n".join(out)
    print("\n".join(out[len(HEAD):len(HEAD) + 9]))
    if a.page:
        a.page.write_text(page)
    if a.wrong:
        bad = [r for r in rows if (not isinstance(r["meaning"], str) and not r["judged"][1]) or (isinstance(r["meaning"], str) and r["judged"][0] in ("act", "ask"))]
        a.wrong.write_text("".join(f"{r['judged'][0]}\t{r['name']}\t{r['text']}\t{json.dumps(r['meaning'])[:160]}\t{json.dumps((r.get('strict') or {}).get('orders') or (r.get('verdict') or {}).get('orders'))[:160]}\t{(r.get('reading') or {}).get('sure', 0):.2f}\t{(r.get('reading') or {}).get('talk', 0):.2f}\n" for r in bad))


if __name__ == "__main__":
    main()
