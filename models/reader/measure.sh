#!/bin/sh
# Measures the reader on corpus files of writers that it never saw, and writes models/reader/FIGURES.md.
#   models/reader/measure.sh held/sheet-*.jsonl
# READER names the built example, where it is not to be built anew.
set -eu
cd "$(dirname "$0")/../.."
READER=${READER:-"cargo run --release --quiet --example reader --"}
read=$(mktemp)
cat "$@" | $READER models/reader/formulas models/reader/reader.bin > "$read"
python3 models/reader/measure.py "$read" --page models/reader/FIGURES.md
rm "$read"
