"""Stage `human`: recordings of people (and earlier synthetic ones) brought into one form.

    python -m kitchen.human pack DATA WORK    reads DATA/{digits,words,sentences,kokoro}.tsv and folders
    python -m kitchen.human unpack WORK       Opus to samples; rows of digits and pairs of words are put together

Held out of training (`dev`): one person of the digits, the last 15 % of every word, and the held-out voices.
"""

import io
import json
import multiprocessing
import pathlib
import random
import re
import sys

import numpy as np

HELD_OUT_PERSON = "lucas"


def _decode(blob):
    import soundfile as sf

    y, rate = sf.read(io.BytesIO(blob), dtype="float32")
    return resampled(y, rate)


def resampled(y, rate):
    """16-bit samples at 16 kHz, half of full scale at the peak."""
    from scipy.signal import resample_poly

    y = y.mean(1) if y.ndim > 1 else y
    if rate != 16000:
        g = np.gcd(16000, rate)
        y = resample_poly(y, 16000 // g, rate // g)
    return (0.5 * y / max(1e-3, float(np.abs(y).max())) * 32767).astype("<i2")


def _rows(data, lexicon):
    from . import arpa, espeak, text, voices

    first = lambda words: [" ".join(lexicon[w][0]) for w in words]
    for line in open(data / "digits.tsv"):
        name, t, who = line.rstrip("\n").split("\t")
        yield "digits", data / "digits" / name, t, first([t]), who, who == HELD_OUT_PERSON
    words = [line.rstrip("\n").split("\t") for line in open(data / "words.tsv")]
    for label in sorted({t for _, t, *_ in words}):
        same = sorted(n for n, t, *_ in words if t == label)
        for k, n in enumerate(same):
            yield "words", data / "words" / n, label, first(label.split()), "", k >= 0.85 * len(same)
    for line in open(data / "sentences.tsv"):
        name, t, *_ = line.rstrip("\n").split("\t")
        clean = re.sub(r"[^a-z' ]+", " ", t.lower().replace("’", "'")).split()
        if re.search(r"\d", t):
            continue
        for w in clean:
            lexicon.setdefault(w, [arpa.from_ipa(espeak.phonemes(w, "en-us"))])
        yield "sentences", data / "sentences" / name, " ".join(clean), first(clean), "reader", False
    for line in open(data / "kokoro.tsv"):
        name, t, accent, who = line.rstrip("\n").split("\t")
        held = bool(set(who.split("+")) & voices.HELD_OUT)
        if all(w in lexicon for w in t.split()) and not held:
            said = arpa.from_ipa(espeak.phonemes(t, "en-us" if accent == "us" else "en"))
            yield "old", data / "kokoro" / name, t, [" ".join(p) for p in text.pronounce(t.split(), said, lexicon)], who, False


def pack(data, work):
    import soundfile as sf

    lexicon = json.loads((work / "lexicon.json").read_text())
    lexicon.setdefault("snowboy", [["S", "N", "OW", "B", "OY"]])
    lexicon.setdefault("jarvis", [["JH", "AA", "R", "V", "AH", "S"]])
    out = work / "human"
    out.mkdir(parents=True, exist_ok=True)
    files = {}
    for kind, path, t, p, who, dev in _rows(data, lexicon):
        if kind not in files:
            files[kind] = [open(out / f"{kind}.bin", "wb"), open(out / f"{kind}.tab", "w"), 0]
        if path.suffix == ".opus":
            blob = path.read_bytes()
        else:
            y, rate = sf.read(path, dtype="float32")
            buf = io.BytesIO()
            sf.write(buf, resampled(y, rate), 16000, format="OGG", subtype="OPUS", compression_level=0.9)
            blob = buf.getvalue()
        f = files[kind]
        f[0].write(blob)
        f[1].write(json.dumps(dict(opus=f[2], bytes=len(blob), t=t, p=p, who=who, dev=dev, set=kind)) + "\n")
        f[2] += len(blob)
    print({k: f[2] for k, f in files.items()})


def unpack(work):
    out, rng = work / "human", random.Random(3)
    with multiprocessing.Pool() as pool:
        for tab in sorted(out.glob("*.tab")):
            rows = [json.loads(x) for x in open(tab)]
            blob = tab.with_suffix(".bin").read_bytes()
            audio = pool.map(_decode, [blob[r["opus"] : r["opus"] + r["bytes"]] for r in rows], 16)
            _write(out / tab.stem, rows, audio)
            if tab.stem in ("digits", "words"):
                made, sound = _joined(rows, audio, rng, 2200 if tab.stem == "digits" else 500, 7 if tab.stem == "digits" else 2)
                _write(out / {"digits": "digit-rows", "words": "word-pairs"}[tab.stem], made, sound)


def _joined(rows, audio, rng, count, most):
    """Several utterances of one person in a row (words: of anyone)."""
    by = {}
    for r, y in zip(rows, audio):
        if not r["dev"]:
            by.setdefault(r["who"], []).append((r, y))
    made, sound = [], []
    for _ in range(count):
        pick = rng.choices(by[rng.choice(sorted(by))], k=rng.randint(2, most))
        parts = []
        for r, y in pick:
            parts += [y, np.zeros(int(16000 * rng.uniform(0.02, 0.3)), "<i2")]
        made.append(dict(t=" ".join(r["t"] for r, _ in pick), p=sum((r["p"] for r, _ in pick), []), who=pick[0][0]["who"], dev=False,
                         set="digit-rows" if most > 2 else "word-pairs"))
        sound.append(np.concatenate(parts[:-1]))
    return made, sound


def _write(base, rows, audio):
    at = 0
    with open(base.with_suffix(".pcm"), "wb") as pcm, open(base.with_suffix(".jsonl"), "w") as index:
        for r, y in zip(rows, audio):
            if len(y) < 1600:
                continue
            pcm.write(y.tobytes())
            index.write(json.dumps({**r, "pcm": at, "n": len(y)}) + "\n")
            at += len(y)
    print(base.name, f"{at / 57.6e6:.2f} h")


if __name__ == "__main__":
    if sys.argv[1] == "pack":
        pack(pathlib.Path(sys.argv[2]), pathlib.Path(sys.argv[3]))
    else:
        unpack(pathlib.Path(sys.argv[2]))
