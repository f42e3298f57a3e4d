"""Stage `test`: whole sentences right, by a strict grammar, in quiet and in kitchen noise.

    python -m kitchen.test WORK MODEL_DIR [SET ...]     sets: choice kokoro flite joe prompts digits words

The same clips, the same noise and the same grammar for any model. Orders: the acceptor of `kitchen.orders` with a competing `[unk]`
path; prompts: that of its lengths of time. Digits: any one of them; words: any one of them or of four hundred others. Noise: `kitchen.noise` of another seed, at a level relative to the active speech.
"""

import json
import pathlib
import sys
import tempfile
import time

import numpy as np
import soundfile as sf

from . import graph, orders


def model_with(model, lines):
    """A model directory of links, with a Gr.fst of its own."""
    d = pathlib.Path(tempfile.mkdtemp())
    for x in ("am", "conf"):
        (d / x).symlink_to((model / x).resolve())
    (d / "graph").mkdir()
    for x in (model / "graph").iterdir():
        if x.name != "Gr.fst":
            (d / "graph" / x.name).symlink_to(x.resolve())
    graph.grammar(lines, model, d / "graph" / "Gr.fst")
    return d


def load(path):
    from scipy.signal import resample_poly

    y, rate = sf.read(path, dtype="float32")
    g = np.gcd(16000, rate)
    return resample_poly(y, 16000 // g, rate // g) if rate != 16000 else y


def noisy(y, noise, snr, rng):
    """Half a second of lead and tail, then noise at `snr` decibels below the active speech."""
    y = np.concatenate([np.zeros(8000), y, np.zeros(8000)])
    loud = np.abs(y) > 0.03 * np.abs(y).max()
    level = np.sqrt(np.mean(y[loud] ** 2))
    s = rng.integers(0, len(noise) - len(y))
    n = noise[s : s + len(y)].astype(float)
    n = n / (np.sqrt(np.mean(n**2)) + 1e-9)
    y = y + n * level * 10 ** (-(60 if snr is None else snr) / 20)
    return (0.3 * y / np.abs(y).max() * 32767).astype("<i2")


def clips(work, name, limit):
    if name in ("digits", "words"):
        rows = [json.loads(x) for x in open(work / "human" / f"{name}.jsonl")]
        pcm = np.fromfile(work / "human" / f"{name}.pcm", "<i2")
        rows = [(r["t"], pcm[r["pcm"] : r["pcm"] + r["n"]] / 32768) for r in rows if r["dev"]]
    else:
        rows = [(t, load(work / "test" / p)) for p, t in (x.rstrip("\n").split("\t") for x in open(work / "test" / f"{name}.tsv"))]
    step = max(1, -(-len(rows) // limit))
    return rows[::step]


def main():
    import vosk

    vosk.SetLogLevel(-1)
    work, model = pathlib.Path(sys.argv[1]), pathlib.Path(sys.argv[2])
    noise = np.load(work / "noise-test.npy")
    ident = {w: int(i) for w, i in (x.split() for x in open(model / "graph" / "words.txt"))}
    missing = [w for w in orders.words() if w not in ident]
    if missing:
        raise SystemExit(f"expected every word of the orders in words.txt, found none of {' '.join(missing)}")
    loaded = {}
    for name in sys.argv[3:]:
        rows = clips(work, name, 120)
        rows = [(t, y) for t, y in rows if all(w in ident for w in t.split())]
        kind = name if name in ("digits", "words", "prompts") else "orders"
        if kind not in loaded:
            if kind in ("orders", "prompts"):
                lines = orders.acceptor(ident, ident["[unk]"], rule="order" if kind == "orders" else "span")
            else:
                some = sorted({t for t, _ in rows})
                if kind == "words":  # among four hundred other words
                    some = sorted({*some, *sorted(w for w in ident if w.isalpha() and len(w) > 3)[:: len(ident) // 400]})
                lines, k = [], 1
                for t in some:
                    at, ws = 0, t.split()
                    for j, w in enumerate(ws):
                        to = 1 if j == len(ws) - 1 else (k := k + 1)
                        lines.append(f"{at} {to} {ident[w]} {ident[w]} 0")
                        at = to
                lines.append("1 0")
            loaded[kind] = vosk.Model(str(model_with(model, lines)))
        line = []
        for snr in (None, 12, 6):
            rng, right, audio, t0 = np.random.default_rng(11), 0, 0.0, time.process_time()
            for t, y in rows:
                rec = vosk.KaldiRecognizer(loaded[kind], 16000)
                x = noisy(y, noise, snr, rng)
                audio += len(x) / 16000
                # the clip whole: where speech ends is the business of the program, not of this test
                heard = json.loads(rec.Result())["text"] + " " if rec.AcceptWaveform(x.tobytes()) else ""
                heard += json.loads(rec.FinalResult())["text"]
                right += " ".join(heard.split()) == t
            line.append(f"{right}/{len(rows)}")
        print(f"{name}: quiet {line[0]}, 12 dB {line[1]}, 6 dB {line[2]}; {(time.process_time() - t0) / audio:.3f} s a second", flush=True)


if __name__ == "__main__":
    main()
