"""Corpus lines spoken by the six Kokoro styles that no training heard, for the figures of free hearing.

    python3 models/reader/speak.py KOKORO OUT ORDERS TALK LINES.jsonl...

KOKORO: the folder that `kitchen.fetch` of models/train made (model.onnx, styles.npz, vocab.json). OUT gets WAVs and `rows.jsonl`, the lines with
their recordings. ORDERS and TALK: so many of each, drawn at random with a fixed seed. Some 2 s of a core a line.
"""
import json
import pathlib
import random
import sys

import numpy as np
import soundfile as sf

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parent.parent / "train"))
from kitchen import text, voices

STYLES = ["af_nova", "bm_lewis", "am_eric", "bf_lily", "am_onyx", "af_river"]
MOST_TOKENS = 118
MOST_WORDS = 22


def main():
    kokoro, out = map(pathlib.Path, sys.argv[1:3])
    count = {"order": int(sys.argv[3]), "talk": int(sys.argv[4])}
    rows = [json.loads(line) for path in sys.argv[5:] for line in open(path, encoding="utf-8")]
    rng = random.Random(11)
    orders = [r for r in rows if isinstance(r["meaning"], list) and r["meaning"] and len(r["text"].split()) <= MOST_WORDS]
    talk = [r for r in rows if r["meaning"] == "talk"]
    chosen = rng.sample(orders, count["order"]) + rng.sample(talk, count["talk"])
    out.mkdir(parents=True, exist_ok=True)
    vocab = json.loads((kokoro / "vocab.json").read_text())["vocab"]
    styles = np.load(kokoro / "styles.npz")
    net = voices.session(kokoro / "model.onnx")
    with open(out / "rows.jsonl", "w", encoding="utf-8") as said:
        for k, row in enumerate(chosen):
            voice = rng.choice(STYLES)
            path = out / f"{k:04}-{voice}.wav"
            tokens, _ = text.kokoro_tokens(row["text"], "en" if voice[0] == "b" else "en-us", vocab)
            style = styles[voice][min(len(tokens), MOST_TOKENS) - 1].astype(np.float32)
            sf.write(path, voices.speak(net, tokens, style, random.Random(path.name).uniform(0.9, 1.15)), 16000)
            print(json.dumps({**row, "file": path.name, "voice": voice}, ensure_ascii=False), file=said, flush=True)


if __name__ == "__main__":
    main()
