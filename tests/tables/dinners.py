"""Plans 500 small dinners with the exact solver of the Python package `ortools` (CP-SAT), and writes down what it found.

    python3 -m venv VENV && VENV/bin/pip install ortools && VENV/bin/python tests/tables/dinners.py

Writes dinners.tsv, one dinner a line: cooks, ovens, the hour that is wanted (in minutes from the start), the dishes, the
hour that everything is ready (the one that is wanted, or the earliest after it), what the standing of finished food costs
then, how long before that hour the first thing begins, and the sum of that over the dishes. A dish is its oven's lead, how
long it may stand hot (or -), and its steps: work, wait, heat (or -), within (or -), stretch. The test
`an_exact_solver_finds_nothing_better` plans the same dinners.
"""

import random
from importlib.metadata import version
from pathlib import Path

from ortools.sat.python import cp_model

HERE = Path(__file__).parent
HEATS = [150, 160, 180, 185, 200, 220, 240]


def dish(r):
    """(lead, keeps, steps); a step is (work, wait, heat, within, stretch)."""
    within = lambda *some: r.choice([None, *some])
    steps = [(r.randint(3, 20), r.choice([0, 0, r.randint(5, 60)]), None, None, 0)]
    if r.random() < 0.5:
        steps.append((r.randint(2, 12), 0, None, within(10, 20, 60), 0))
    if r.random() < 0.3:
        steps.append((0, r.randint(20, 90), None, within(0, 10, 60), r.choice([0, 0, 30, 240])))
    kind = r.random()
    if kind < 0.65:
        steps.append((r.randint(1, 4), r.randint(15, 80), r.choice(HEATS), within(0, 10, 60), 0))
    else:
        steps.append((r.randint(1, 6), r.randint(5, 30), None, within(0, 10), 0))
    if r.random() < 0.5:
        steps.append((r.randint(1, 8), r.choice([0, r.randint(5, 20)]), None, within(0, 5, 20), 0))
    lead = r.choice([10, 15, 20, 25]) if kind < 0.65 else 0
    return lead, r.choice([None, None, 20, 45]), steps


def cooling(a, b):
    return 0 if a - b <= 10 else -(-(a - b) // 3)


def solve(cooks, ovens, dishes, ready):
    """(the hour, and the three costs) at an hour; at the earliest where that is None; nothing where there is no plan."""
    m = cp_model.CpModel()
    far = 2500
    hour = m.new_int_var(0, far, "hour") if ready is None else ready
    hands, ovens_used, ends, before, costs = [], [], [], [], []
    for d, (lead, keeps, steps) in enumerate(dishes):
        starts = [m.new_int_var(0, far, f"{d}.{i}") for i in range(len(steps))]
        begins = [starts[0]]
        for i, (work, wait, heat, within, _) in enumerate(steps):
            end = starts[i] + work + wait
            if work:
                hands.append(m.new_fixed_size_interval_var(starts[i], work, ""))
            if heat is not None:
                ovens_used.append((d, heat, lead, starts[i], end))
                m.add(starts[i] >= lead)
                begins.append(starts[i] - lead)
            if i:
                b_work, b_wait, b_heat, _, b_stretch = steps[i - 1]
                last = starts[i - 1] + b_work + b_wait
                m.add(starts[i] >= last)
                if b_heat is not None and b_wait:
                    m.add(starts[i] == last)
                elif within is not None:
                    m.add(starts[i] <= last + within + b_stretch)
        end = starts[-1] + steps[-1][0] + steps[-1][1]
        m.add(end <= hour)
        ends.append(end)
        first = m.new_int_var(0, far, "")
        m.add_max_equality(first, [hour - b for b in begins])
        before.append(first)
        stood = m.new_int_var(0, far, "")
        m.add_max_equality(stood, [hour - end - steps[-1][4], 0])
        cost = (3 if keeps is not None else 1) * stood
        if keeps is not None:
            spoils = m.new_int_var(0, far, "")
            m.add_max_equality(spoils, [hour - end - keeps, 0])
            cost += 20 * spoils
        costs.append(cost)
    if cooks == 1:
        m.add_no_overlap(hands)
    else:
        m.add_cumulative(hands, [1] * len(hands), cooks)
    oven = {d: m.new_bool_var("") for d, *_ in ovens_used}
    for n, (d, heat, lead, start, end) in enumerate(ovens_used):
        for e, other, o_lead, o_start, o_end in ovens_used[n + 1:]:
            if d == e or abs(heat - other) <= 10:
                continue
            one, two = m.new_bool_var(""), m.new_bool_var("")
            m.add(o_start - o_lead >= end + max(0, cooling(heat, other) - o_lead)).only_enforce_if(one)
            m.add(start - lead >= o_end + max(0, cooling(other, heat) - lead)).only_enforce_if(two)
            ways = [one, two]
            if ovens > 1:
                apart = m.new_bool_var("")
                m.add(oven[d] != oven[e]).only_enforce_if(apart)
                ways.append(apart)
            m.add_bool_or(ways)
    if ready is None:
        m.minimize(hour)
    else:
        most = m.new_int_var(0, far, "")
        m.add_max_equality(most, before)
        m.minimize(sum(costs) * 10**8 + most * 10**4 + sum(before))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.max_time_in_seconds = 60
    status = solver.solve(m)
    if status == cp_model.INFEASIBLE:
        return None
    assert status == cp_model.OPTIMAL, solver.status_name(status)
    if ready is None:
        return solver.value(hour)
    return (solver.value(sum(costs)), solver.value(most), solver.value(sum(before)))


def written(cooks, ovens, ready, dishes):
    say = lambda n: "-" if n is None else str(n)
    of = lambda lead, keeps, steps: ";".join(
        [str(lead), say(keeps), *(",".join(say(n) for n in step) for step in steps)])
    return f"{cooks}\t{ovens}\t{ready}\t" + " ".join(of(*d) for d in dishes)


r = random.Random(20261127)
rows = [f"# ortools {version('ortools')}"]
for number in range(500):
    cooks, ovens = r.choice([1, 1, 1, 2]), r.choice([1, 1, 1, 2])
    dishes = [dish(r) for _ in range(r.choice([2, 2, 3, 3, 4]))]
    ready = r.choice([r.randint(60, 200), r.randint(150, 500), 700])
    hour, cost = ready, solve(cooks, ovens, dishes, ready)
    if cost is None:
        hour = solve(cooks, ovens, dishes, None)
        assert hour > ready
        cost = solve(cooks, ovens, dishes, hour)
    rows.append(written(cooks, ovens, ready, dishes) + f"\t{hour}\t" + "\t".join(map(str, cost)))
(HERE / "dinners.tsv").write_text("\n".join(rows) + "\n", encoding="utf-8")
print(len(rows) - 1, "dinners")
