"""Makes the writing sheets: situations and intentions for people to put into their own words, and the key with what each means.

    python3 models/reader/make_sheets.py OUT [FIRST LAST]

OUT/sheets/sheet-NN.tsv: id, situation, what the cook wants.  OUT/keys/sheet-NN.json: id -> topic, meaning's name, situation, orders.
OUT/formulas/*.toml: the invented formulas. The same seed gives the same sheets.
"""
import json
import pathlib
import random
import sys

import kitchens
import meanings
from meanings import MIN, minutes, o

ROWS, TALK_SHARE = 375, 0.235
OWN = ["eggs", "rice", "pasta", "beans", "toast", "tea", "potatoes", "onions", "custard", "sausages", "peas", "sauce", "pudding", "chicken", "beetroot",
       "starter", "tray of biscuits", "stock", "noodles", "mushrooms", "glaze", "bacon", "lentils", "second tray", "syrup", "plantain"]
DURATIONS = [0.5, 0.75, 1, 1.5, 2, 3, 4, 5, 6, 7, 8, 10, 12, 15, 18, 20, 25, 30, 35, 40, 45, 50, 60, 75, 90, 120]


class Again(Exception):
    """This meaning does not fit this formula."""


class Scene:
    def __init__(self, rng):
        self.rng = rng
        self.f = rng.choice(kitchens.FORMULAS)
        self.step = rng.randrange(len(self.f.steps))
        self.running, self.rings, self.asked, self.last, self.weigh = [], None, None, None, None
        self.state, self.beside, self.words = "silent", None, []

    def pick(self, xs):
        return self.rng.choice(list(xs))

    def need(self, test):
        if not test(self.f):
            raise Again

    def ings(self, n, test=lambda i: True):
        here = [i for i in self.f.ingredients if test(i)]
        if len(here) < n:
            raise Again
        return self.rng.sample(here, n)

    def ing(self, test=lambda i: True):
        step = [self.f.ingredient(u) for u in self.f.steps[self.step].uses]
        step = [i for i in step if test(i)]
        if step and self.rng.random() < 0.5:
            return self.pick(step)
        return self.ings(1, test)[0]

    def dur(self):
        return self.pick(DURATIONS)

    def own_name(self):
        return self.own_names(1)[0]

    def own_names(self, n):
        have = {t["name"] for t in self.running}
        return self.rng.sample([x for x in OWN if x not in have], n)

    def other_step(self):
        return self.pick([n for n in range(len(self.f.steps)) if n != self.step])

    def at_weighing(self):
        at = [n for n, s in enumerate(self.f.steps) if s.uses]
        self.step = self.pick(at)

    def weighing(self):
        self.at_weighing()
        i = self.f.ingredient(self.pick(self.f.steps[self.step].uses))
        self.weigh = i.id
        self.last = {"said": f"{i.amount:g} {i.unit if i.unit == 'g' else ''} {i.name}.".replace("  ", " "), "order": o("weigh_next")}

    def maybe_weighing(self):
        if self.rng.random() < 0.6:
            self.weighing()

    def said(self):
        kind = self.rng.randrange(4)
        if kind == 0:
            i = self.ing()
            self.last = {"said": f"{i.name.capitalize()}: {i.amount:g} {i.unit}.", "order": o("how_much", ingredient=i.id)}
        elif kind == 1:
            self.last = {"said": f"Step {self.step + 1} of {len(self.f.steps)}: {self.f.steps[self.step].title}.", "order": o("next")}
        elif kind == 2:
            t = self.timers(1)
            self.last = {"said": f"The {t} has {self.minutes_left(t)} left.", "order": o("time_left", timer=t)}
        else:
            self.last = {"said": f"Step {self.step + 1}: {self.f.steps[self.step].title}. A long instruction.", "order": o("read_step")}

    def minutes_left(self, name):
        return minutes(max(1, next(t for t in self.running if t["name"] == name)["left_ms"] // MIN))

    def timers(self, n, paused=False):
        """Sets n timers running; gives back the name of the one that is meant."""
        names = []
        for k in range(n):
            own = [t for t in self.f.timers if t[1] not in names]
            if own and (k == 0 and self.rng.random() < 0.7 or self.rng.random() < 0.4):
                at, name, lasts, _ = self.pick(own)
                if k == 0:
                    self.step = at
            else:
                name, lasts = self.pick([x for x in OWN if x not in names]), self.pick([5, 10, 12, 20, 30, 40])
            names.append(name)
            left = max(1, round(lasts * self.rng.uniform(0.1, 0.95)))
            self.running.append({"name": name, "left_ms": left * MIN, "total_ms": lasts * MIN, "paused": bool(paused and k == 0)})
        return names[0]

    def offered(self):
        at, name, lasts, look = self.pick(self.f.timers)
        self.step = at
        self.last = {"said": f"Step {at + 1}: {self.f.steps[at].title}. The {name} takes {minutes(lasts)}; shall it run?" if self.rng.random() < 0.3 else f"Step {at + 1}: {self.f.steps[at].title}.", "order": o("next")}
        self.words.append(f"the step offers a timer: {name}, {minutes(lasts)}")

    def ringing(self):
        t = self.timers(self.pick([1, 1, 2]))
        self.running = [r for r in self.running if r["name"] != t]
        self.rings = t
        return t

    def look(self):
        with_look = [t for t in self.f.timers if t[3]]
        if not with_look:
            raise Again
        at, name, lasts, look = self.pick(with_look)
        self.step, self.rings = at, name if self.rng.random() < 0.5 else None
        self.asked = {"kind": "look", "question": look, "timer": name}
        if self.rng.random() < 0.3:
            n = self.own_name()
            self.running.append({"name": n, "left_ms": 7 * MIN, "total_ms": 20 * MIN, "paused": False})
        return look

    def confirm(self):
        kind = self.rng.randrange(6)
        if kind == 0:
            t = self.timers(1)
            self.asked = {"kind": "confirm", "question": f"Stop the {t} timer?", "order": o("stop_timer", timer=t)}
        elif kind == 1:
            self.asked = {"kind": "confirm", "question": "Leave now?", "order": o("goodbye")}
        elif kind == 2:
            self.asked = {"kind": "confirm", "question": "Go on without the rest?", "order": o("next")}
        elif kind == 3:
            t = self.timers(1)
            self.asked = {"kind": "confirm", "question": f"Five minutes more for the {t}?", "order": o("add_time", by=5 * MIN, timer=t)}
        elif kind == 4:
            n = self.pick([4, 8, 12])
            self.asked = {"kind": "confirm", "question": f"Make it for {n}?", "order": o("scale", by={"portions": float(n)})}
        else:
            self.asked = {"kind": "offer", "question": "That is too soon to be ready. Shall I plan for eight fifteen?"}

    def which(self):
        a, b = self.ings(2)
        kind = self.pick(["how_much", "mark_added", "have_added"])
        question = f"Did you say the {a.name} or the {b.name}?" if self.rng.random() < 0.6 else f"Which one: the {a.name}, or the {b.name}?"
        orders = [o(kind, ingredient=a.id), o(kind, ingredient=b.id)]
        self.asked = {"kind": "which", "question": question, "readings": orders}
        return orders

    def how_long(self):
        name = self.pick([None, self.own_name()])
        self.asked = {"kind": "how_long", "question": f"How long for the {name}?" if name else "For how long?", "timer": name}
        return name

    def reading(self):
        self.state = "reading"
        self.last = {"said": self.pick(["(the ingredient list, still reading)", "(a long step, still reading)", "(the list of what can be said, still reading)"]), "order": self.pick([o("read_ingredients"), o("read_step"), o("help")])}

    def maybe_reading(self):
        if self.rng.random() < 0.5:
            self.reading()
        elif self.rng.random() < 0.5:
            self.timers(1)

    def asleep(self):
        self.state = "not listening"

    def did(self):
        kind = self.rng.randrange(5)
        if kind == 0:
            a, _ = self.did_mark()
            return f"it noted {a.name} as in"
        if kind == 1:
            was, _, _ = self.did_timer()
            return f"it set {minutes(was)}"
        if kind == 2:
            was, _ = self.did_portions()
            return f"it changed the size to {was}"
        if kind == 3:
            t = self.timers(1)
            self.last = {"said": f"The {t} is off.", "order": o("stop_timer", timer=t)}
            self.running = []
            return f"it ended the {t} timer"
        self.last = {"said": f"Step {self.step + 1}: {self.f.steps[self.step].title}.", "order": o("next")}
        return "it went a step on"

    def did_timer(self):
        was, n = self.rng.sample([5, 10, 12, 13, 14, 15, 20, 25, 30, 40, 50, 60, 70, 90], 2)
        if self.rng.random() < 0.5:
            was, n = self.pick([(15, 50), (50, 15), (13, 30), (30, 13), (14, 40), (40, 14), (16, 60), (12, 20)])
        name = self.pick([None, self.own_name()])
        self.running.append({"name": name or f"{was} minute timer", "left_ms": was * MIN, "total_ms": was * MIN, "paused": False})
        self.last = {"said": f"{minutes(was).capitalize()}{f' for the {name}' if name else ''} from now.", "order": o("start_timer", lasts=was * MIN, name=name)}
        return was, n, name

    def did_mark(self):
        a, b = self.ings(2)
        self.last = {"said": f"{a.name.capitalize()} is in.", "order": o("mark_added", ingredient=a.id)}
        return a, b

    def did_portions(self):
        was, n = self.rng.sample([4, 5, 6, 8, 10, 12, 15, 20], 2)
        self.last = {"said": f"It is for {was} now.", "order": o("scale", by={"portions": float(was)})}
        return was, n

    def did_ask(self):
        a, b = self.ings(2, lambda i: i.unit == "g")
        self.last = {"said": f"{a.name.capitalize()}: {a.amount:g} g.", "order": o("how_much", ingredient=a.id)}
        return a, b

    def did_ask_unit(self):
        a, _ = self.did_ask()
        return a, self.pick(["oz", "tbsp", "cup", "tsp"])

    def did_have(self):
        a, b = self.ings(2)
        self.last = {"said": self.pick([f"Yes, the {a.name} is in.", f"No, the {a.name} is not in yet."]), "order": o("have_added", ingredient=a.id)}
        return a, b

    def did_left(self):
        other = self.timers(2)
        meant = self.running[1]["name"]
        self.last = {"said": f"The {other} has {self.minutes_left(other)} left.", "order": o("time_left", timer=other)}
        return meant

    def did_add(self):
        t = self.timers(1)
        n = self.pick([2, 3, 5, 10])
        self.last = {"said": f"{minutes(n).capitalize()} more for the {t}.", "order": o("add_time", by=n * MIN, timer=t)}
        return t, n

    def any_situation(self):
        r = self.rng.random()
        if r < 0.2:
            self.timers(self.pick([1, 2]))
        elif r < 0.3:
            self.ringing()
        elif r < 0.4 and any(t[3] for t in self.f.timers):
            self.look()
        elif r < 0.5:
            self.weighing()
        elif r < 0.6:
            self.said()
        elif r < 0.65:
            self.confirm()

    def plain(self):
        """The situation in plain words."""
        s = self.f.steps[self.step]
        out = [f"{self.f.name}, step {self.step + 1} of {len(self.f.steps)}: {s.title}"]
        if self.weigh:
            out.append(f"it waits for the {self.f.ingredient(self.weigh).name} to go in")
        for t in self.running:
            out.append(f"timer '{t['name']}' {'is held' if t['paused'] else 'runs'}, {minutes(max(1, t['left_ms'] // MIN))} left")
        out += self.words
        if self.rings:
            out.append(f"the '{self.rings}' alarm rings")
        if self.last:
            out.append(f"helper {'is saying' if self.state == 'reading' else 'just said'}: \"{self.last['said']}\"")
        if self.asked:
            out.append(f"helper asks: \"{self.asked['question']}\"")
        if self.state == "not listening":
            out.append("it has been told not to listen")
        if self.beside:
            out.append(self.beside)
        return "; ".join(out)

    def data(self):
        return {"formula": self.f.id, "step": self.step + 1, "weighing": self.weigh, "asked": self.asked, "rings": self.rings,
                "timers": self.running, "last": self.last, "state": self.state}


def row(rng, fill):
    while True:
        s = Scene(rng)
        try:
            wants, orders = fill(s)
        except Again:
            continue
        return s, rng.choice(wants), orders


def sheet(n):
    rng = random.Random(7000 + n)
    names = [m[0] for m in meanings.MEANINGS]
    # Every sheet leans to some meanings, so that sheets differ; each meaning comes at least once in every second sheet.
    weights = [m[1] * rng.choice([0.4, 1, 1, 1, 2]) for m in meanings.MEANINGS]
    talk = round(ROWS * TALK_SHARE)
    drawn = [k for k in range(len(names)) if rng.random() < 0.75]
    drawn += rng.choices(range(len(names)), weights, k=ROWS - talk - len(drawn))
    rows = []
    for k in drawn:
        name, _, topic, fill = meanings.MEANINGS[k]
        rows.append((name, topic, row(rng, fill)))
    rows += [("talk", "talk", row(rng, meanings.talk)) for _ in range(talk)]
    rng.shuffle(rows)
    return rows


def main():
    out = pathlib.Path(sys.argv[1])
    first, last = (int(sys.argv[2]), int(sys.argv[3])) if len(sys.argv) > 3 else (1, 60)
    for folder in ("sheets", "keys", "formulas"):
        (out / folder).mkdir(parents=True, exist_ok=True)
    for f in kitchens.FORMULAS:
        (out / "formulas" / f"{f.id}.toml").write_text(f.toml())
    for n in range(first, last + 1):
        lines, key = ["id\tsituation\twhat the cook wants"], {}
        for k, (name, topic, (s, want, orders)) in enumerate(sheet(n), 1):
            id = f"{n:02}-{k:03}"
            lines.append(f"{id}\t{s.plain()}\t{want}")
            key[id] = {"topic": topic, "name": name, "situation": s.data(), "meaning": orders}
        (out / "sheets" / f"sheet-{n:02}.tsv").write_text("\n".join(lines) + "\n")
        (out / "keys" / f"sheet-{n:02}.json").write_text("{\n" + ",\n".join(f"{json.dumps(i)}:{json.dumps(v, separators=(',', ':'))}" for i, v in key.items()) + "\n}\n")


if __name__ == "__main__":
    main()
