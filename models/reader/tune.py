"""Chooses the limits in src/reader/mod.rs on lines read by networks that never saw their writers.

    python3 models/reader/tune.py --grid > limits.json
    cat LINES | cargo run --release --example reader -- models/reader/formulas fold-K.bin limits.json > READ    (for each part of the writers)
    python3 models/reader/tune.py limits.json READ...

The rules that a verdict follows are those of the program: it judges every line by every limit of the grid.
"""
import itertools
import json
import sys

import measure

GRID = [g for g in itertools.product((0.2, 0.3, 0.4), (0.6, 0.7, 0.8, 0.9), (0.8, 0.9, 0.95, 0.97, 0.98), (0.05, 0.1, 0.2, 0.3)) if g[0] <= g[1] <= g[2]]


def main():
    if sys.argv[1] == "--grid":
        print(json.dumps(GRID))
        return
    grid = json.load(open(sys.argv[1]))
    rows = [json.loads(l) for p in sys.argv[2:] for l in open(p)]
    best = []
    for k, limits in enumerate(grid):
        for r in rows:
            r["judged"] = measure.judge({**r, "verdict": {"kind": r["kinds"][k], "orders": r["reading"]["orders"]}} if "kinds" in r else r)
        f = measure.figures(rows)
        best.append((f["right"] + 0.3 * f["at once"] - 4 * max(0, f["wrong"] - 0.012) - 10 * max(0, f["talk acted"] - 0.0025), limits, f))
    best.sort(key=lambda b: -b[0])
    for _, limits, f in best[:8]:
        print(limits, {k: round(v, 4) for k, v in f.items()})


if __name__ == "__main__":
    main()
