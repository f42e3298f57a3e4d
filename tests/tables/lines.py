#!/usr/bin/env python3
"""Reads ingredient lines with `ingredient-parser-nlp` (Python package index), for comparison with ours.

The parser wants a part-of-speech tagger whose model is not shipped in any package, so the tagger of `textblob` (the
same Penn tags, its lexicon shipped) stands in for it. Run it in this folder:
    python3 lines.py < list-of-lines > theirs.tsv
A row is: line, amounts joined by ` + ` (`low-high unit`), name.
"""
import sys

import ingredient_parser.en.preprocess as preprocess
from ingredient_parser import parse_ingredient
from textblob.en import parser as tagger

preprocess.pos_tag = lambda tokens: [(t[0], t[1]) for t in tagger.find_tags(list(tokens))]


def number(x):
    try:
        return f"{float(x):.4f}".rstrip("0").rstrip(".")
    except (TypeError, ValueError):
        return str(x)


def amount(a):
    low, high = number(a.quantity), number(a.quantity_max)
    return f"{low if low == high else low + '-' + high} {a.unit}".strip()


for line in sys.stdin.read().splitlines():
    parsed = parse_ingredient(line, volumetric_units_system="metric")
    first = parsed.amount[:1]
    if not first:
        amounts = ""
    elif hasattr(first[0], "amounts"):
        amounts = " + ".join(amount(a) for a in first[0].amounts)
    else:
        amounts = amount(first[0])
    print(line, amounts, " / ".join(n.text for n in parsed.name), sep="\t")
