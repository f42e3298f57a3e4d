"""Stage `prompts`: a test voice that is a person's: the telephone prompts of Debian's `asterisk-core-sounds-en` (Allison Smith, CC BY-SA 3.0).

    python -m kitchen.prompts WORK SOUNDS TRANSCRIPTS COUNT

SOUNDS is the folder with `hours.g722` and `digits/`, TRANSCRIPTS the package's core-sounds-en.txt.gz; needs ffmpeg. Writes lengths of time put
together from single recordings as WORK/test/prompts.tsv. They are for tests alone: training never hears them.
"""

import gzip
import pathlib
import random
import re
import subprocess
import sys

import numpy as np
import soundfile as sf

from . import orders


def decoded(path):
    raw = subprocess.run(["ffmpeg", "-v", "error", "-f", "g722", "-i", str(path), "-f", "s16le", "-ar", "16000", "-ac", "1", "-"],
                         check=True, capture_output=True).stdout
    y = np.frombuffer(raw, "<i2") / 32768
    loud = np.flatnonzero(np.abs(y) > 0.02 * np.abs(y).max())
    return y[max(0, loud[0] - 640) : loud[-1] + 1280]


def main():
    work, sounds, count = pathlib.Path(sys.argv[1]), pathlib.Path(sys.argv[2]), int(sys.argv[4])
    word = {}
    for line in gzip.open(sys.argv[3], "rt", errors="replace"):
        name, colon, said = line.strip().partition(": ")
        plain = re.sub(r"[^a-z]", "", said.lower())
        if colon and re.fullmatch(r"digits/\d+|digits/(hundred|thousand)|hours|minutes?|seconds?|vm-and", name):
            word.setdefault(plain, decoded(sounds / f"{name}.g722"))
    rng, rows = random.Random(31), {}
    while len(rows) < count:
        s = orders.sample(rng, "span")
        if s not in rows and all(w in word for w in s.split()):
            rows[s] = np.concatenate([x for w in s.split() for x in (word[w], np.zeros(int(16000 * rng.uniform(0.0, 0.06))))])
    out = work / "test"
    out.mkdir(exist_ok=True)
    for k, y in enumerate(rows.values()):
        sf.write(out / f"prompts-{k}.wav", y, 16000)
    (out / "prompts.tsv").write_text("".join(f"prompts-{k}.wav\t{t}\n" for k, t in enumerate(rows)))
    print(len(word), "words,", len(rows), "lengths of time")


if __name__ == "__main__":
    main()
