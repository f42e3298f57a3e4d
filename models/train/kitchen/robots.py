"""Stage `robots`: a small share of speech by formant and diphone synthesisers, so that a flat voice is understood too.

    python -m kitchen.robots WORK COUNT

Sentences of WORK/text.json by espeak-ng in many variants (American, British, Scottish, Caribbean) and by flite's `kal16`, as WORK/human/robots.{bin,tab}.
flite's other voices are kept for the tests.
"""

import io
import json
import pathlib
import random
import subprocess
import sys
import tempfile

ACCENTS = {"en-us": "us", "en-gb": "gb", "en-gb-scotland": "gb", "en-029": "gb", "en-gb-x-rp": "gb", "en-gb-x-gbclan": "gb", "en-gb-x-gbcwmd": "gb"}
VARIANTS = ["", *(f"+m{k}" for k in range(1, 8)), *(f"+f{k}" for k in range(1, 5))]


def spoken(rng, text, path):
    """Speak to a WAV file; which reading of the sentence it is, and by whom."""
    if rng.random() < 0.35:
        subprocess.run(["flite", "-voice", "kal16", "--setf", f"duration_stretch={rng.uniform(0.8, 1.2):.2f}", "-t", text, "-o", path], check=True)
        return "us", "kal16"
    accent = rng.choice(sorted(ACCENTS))
    voice = accent + rng.choice(VARIANTS)
    subprocess.run(["espeak-ng", "-v", voice, "-s", str(rng.randint(130, 210)), "-p", str(rng.randint(25, 75)), "-w", path, text], check=True)
    return ACCENTS[accent], voice


def main():
    import soundfile as sf

    from . import human

    work, count = pathlib.Path(sys.argv[1]), int(sys.argv[2])
    rng = random.Random(21)
    texts = rng.sample(json.loads((work / "text.json").read_text()), count)
    at = 0
    with open(work / "human" / "robots.bin", "wb") as blobs, open(work / "human" / "robots.tab", "w") as tab, tempfile.TemporaryDirectory() as tmp:
        for item in texts:
            path = f"{tmp}/a.wav"
            reading, who = spoken(rng, item["t"], path)
            y, rate = sf.read(path, dtype="float32")
            blob = io.BytesIO()
            sf.write(blob, human.resampled(y, rate), 16000, format="OGG", subtype="OPUS", compression_level=0.95)
            blob = blob.getvalue()
            blobs.write(blob)
            tab.write(json.dumps(dict(opus=at, bytes=len(blob), t=item["t"], p=item[reading + "p"], who=who, dev=False, set="robots")) + "\n")
            at += len(blob)
    print(len(texts), "sentences", at, "bytes")


if __name__ == "__main__":
    main()
