#!/bin/sh
# Measures the reader on corpus files of writers that it never saw, and writes models/reader/FIGURES.md.
#   models/reader/measure.sh                      (what is kept away: models/reader/held)
#   models/reader/measure.sh LINES.jsonl...       (any others)
# READER names the built example, where it is not to be built anew.
set -eu
cd "$(dirname "$0")/../.."
READER=${READER:-"cargo run --release --quiet --example reader --"}
[ $# -gt 0 ] || set -- models/reader/held/*.jsonl
read=$(mktemp)
cat "$@" | $READER models/reader/formulas models/reader/reader.bin > "$read"
python3 models/reader/measure.py "$read" --page models/reader/FIGURES.md
rm "$read"
