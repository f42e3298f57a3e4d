"""Talk by a person for the hearing bench: the telephone prompts of Debian's `asterisk-core-sounds-en` (Allison Smith, CC BY-SA 3.0).

    python people.py SOUNDS TRANSCRIPTS OUT

SOUNDS is the folder of the package's .g722 files, TRANSCRIPTS its core-sounds-en.txt.gz; needs ffmpeg. OUT/people gets WAVs and a `said.tsv`, each
marked as talk. The speech model's training never heard this person.
"""

import gzip
import pathlib
import re
import sys

import soundfile as sf

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent.parent.parent / "models" / "train"))
from kitchen.prompts import decoded  # noqa: E402


def main():
    sounds, out = pathlib.Path(sys.argv[1]), pathlib.Path(sys.argv[3]) / "people"
    out.mkdir(parents=True, exist_ok=True)
    rows, seconds = [], 0.0
    for line in gzip.open(sys.argv[2], "rt", errors="replace"):
        name, colon, said = line.strip().partition(": ")
        words = re.sub(r"[^a-z' ]+", " ", said.lower()).split()
        path = sounds / f"{name}.g722"
        if not colon or len(words) < 3 or "[" in said or not path.exists():
            continue
        y = decoded(path)
        file = name.replace("/", "-") + ".wav"
        sf.write(out / file, y, 16000)
        rows.append(f"{file}\t-{' '.join(words)}\tprompts\n")
        seconds += len(y) / 16000
    (out / "said.tsv").write_text("".join(rows))
    print(len(rows), "sentences,", round(seconds / 60, 1), "minutes")


if __name__ == "__main__":
    main()
