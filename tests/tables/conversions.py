#!/usr/bin/env python3
"""Makes conversions.tsv: 10,000 conversions by GNU units, confirmed by pint where pint knows the measure.

Needs GNU `units` (Debian package `units`) and `pint` (Python package index). Run it in this folder:
    python3 conversions.py > conversions.tsv
A row is: number, from, to, result by GNU units, `b` when pint agrees to 1e-12 or `u` when pint lacks the measure.
"""
import random
import subprocess
import sys

import pint

# our symbol: (GNU units, pint)
MASS = {
    "mg": ("mg", "milligram"),
    "g": ("g", "gram"),
    "kg": ("kg", "kilogram"),
    "oz": ("oz", "ounce"),
    "lb": ("lb", "pound"),
}
VOLUME = {
    "ml": ("ml", "milliliter"),
    "cl": ("cl", "centiliter"),
    "dl": ("dl", "deciliter"),
    "l": ("l", "liter"),
    "us tsp": ("usteaspoon", "teaspoon"),
    "us tbsp": ("ustablespoon", "tablespoon"),
    "us fl oz": ("usfloz", "fluid_ounce"),
    "us cup": ("uscup", "cup"),
    "us pint": ("uspint", "pint"),
    "us qt": ("usquart", "quart"),
    "us gal": ("usgallon", "gallon"),
    "uk tsp": ("brteaspoon", None),
    "uk tbsp": ("brtablespoon", None),
    "uk fl oz": ("brfloz", "imperial_fluid_ounce"),
    "uk cup": ("brcup", "imperial_cup"),
    "uk pint": ("brpint", "imperial_pint"),
    "uk qt": ("brquart", "imperial_quart"),
    "uk gal": ("brgallon", "imperial_gallon"),
    "metric tsp": ("5 ml", None),
    "metric tbsp": ("15 ml", None),
    "metric cup": ("metriccup", None),
    "au tbsp": ("austbl", None),
}
HEAT = {"C": ("tempC", "degC"), "F": ("tempF", "degF")}
LENGTH = {"cm": ("cm", "centimeter"), "in": ("inch", "inch")}


def main():
    random.seed(20261125)
    ureg = pint.UnitRegistry()
    rows = []
    for _ in range(10_000):
        kind = random.choices([MASS, VOLUME, HEAT, LENGTH], [3, 5, 1, 1])[0]
        a, b = random.sample(sorted(kind), 2)
        if kind is HEAT:
            number = round(random.uniform(-40, 300), random.choice([0, 1, 2]))
        else:
            number = float(f"{10 ** random.uniform(-3, 5):.{random.choice([2, 3, 5])}g}")
        rows.append((number, a, b, kind))
    lines = []
    for number, a, b, kind in rows:
        if kind is HEAT:
            lines += [f"{kind[a][0]}({number!r})", kind[b][0]]
        else:
            lines += [f"{number!r} {kind[a][0]}", kind[b][0]]
    out = subprocess.run(
        ["units", "-t", "-q", "-o", "%.15g"], input="\n".join(lines) + "\n", text=True, capture_output=True, check=True
    ).stdout.split("\n")
    for (number, a, b, kind), result in zip(rows, out):
        value = float(result)
        flag = "u"
        if kind[a][1] and kind[b][1]:
            if kind is HEAT:
                other = ureg.Quantity(number, kind[a][1]).to(kind[b][1]).magnitude
            else:
                other = number * ureg(kind[a][1]).to(kind[b][1]).magnitude
            if abs(other - value) > 1e-12 * max(1.0, abs(value)):
                sys.exit(f"the two disagree: {number} {a} in {b}: {value} and {other}")
            flag = "b"
        print(f"{number!r}\t{a}\t{b}\t{result}\t{flag}")


main()
