"""Chooses the limits in src/reader/mod.rs on lines read by networks that never saw their writers.

    python3 models/reader/tune.py READ...
"""
import itertools
import json
import sys

import measure

HARMLESS = set("""repeat repeat_last spell where_am_i what_next steps_left read_ingredients read_step oven_heat weigh_next have_added left_to_add how_much
contains allergens hydration todays_size what_heard troubles time_left ready_when next_on_clock tell_time when_start help explain_chimes what_is_in
time_gone when_light_oven tell_step step_names how_to_tell am_i_late how_long_in_all ask_tin burn_help stop_talking hang_on stop_chime""".split())


def verdict(r, ask, harmless, act, talk):
    if r["talk"] >= 0.5:
        return "talk"
    if r["wish"] and r["sure"] >= harmless:
        return "wish"
    if not r["orders"] or r["sure"] < ask or r["talk"] >= talk:
        return "unknown"
    names = {o["intent"] for o in r["orders"]}
    if "ask" in names:
        return "ask"
    enough = harmless if all(o["intent"] in HARMLESS for o in r["orders"]) else act
    if r["sure"] >= enough and not r["doubtful"]:
        return "act"
    return "unknown" if names & {"stop_talking", "hang_on"} else "ask"


def main():
    rows = [json.loads(l) for p in sys.argv[1:] for l in open(p)]
    for r in rows:
        s = dict(r, verdict={"kind": "act", "orders": r["reading"]["orders"]}) if "reading" in r else r
        r["strictly"] = r.get("strict") and "orders" in r["strict"]
        r["as_act"] = measure.judge(s)
    best = []
    for ask, harmless, act, talk in itertools.product((0.3, 0.4, 0.5), (0.5, 0.6, 0.7, 0.8), (0.6, 0.7, 0.8, 0.9, 0.95), (0.05, 0.1, 0.2, 0.3)):
        if not ask <= harmless <= act:
            continue
        for r in rows:
            if r["strictly"]:
                r["judged"] = r["as_act"]
            else:
                kind = verdict(r["reading"], ask, harmless, act, talk) if "reading" in r else "unknown"
                r["judged"] = (kind, r["as_act"][1] and kind in ("act", "ask"))
        f = measure.figures(rows)
        best.append((f["right"] + 0.3 * f["at once"] - 4 * max(0, f["wrong"] - 0.013) - 10 * max(0, f["talk acted"] - 0.0025), (ask, harmless, act, talk), f))
    best.sort(key=lambda b: -b[0])
    for score, limits, f in best[:6]:
        print(limits, {k: round(v, 4) for k, v in f.items()})


if __name__ == "__main__":
    main()
