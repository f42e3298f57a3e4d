"""Stage `voices`: speech from Kokoro-82M, many processes, resumable.

    python -m kitchen.voices WORK SHARD SHARDS SECONDS [cpu|cuda]

Needs WORK/text.json and WORK/kokoro/{model.onnx,styles.npz} (see `kitchen.fetch`). Every process writes its own shard:
WORK/speech/kN.pcm (16 kHz, 16 bit) and kN.jsonl (one line an utterance). A style is one
of the packaged ones or a blend of two or three; the held-out voices are never part of it.
"""

import json
import os
import pathlib
import random
import sys
import time

TEST = {"af_nova", "af_river", "am_eric", "am_onyx", "bf_lily", "bm_lewis"}
CHOICE = {"af_sky", "bm_fable"}  # for choosing among candidates
HELD_OUT = TEST | CHOICE


class Processor:
    """Kokoro by onnxruntime with one thread: many processes are faster than many threads."""

    def __init__(self, path):
        import onnxruntime as ort

        o = ort.SessionOptions()
        o.intra_op_num_threads = o.inter_op_num_threads = 1
        o.log_severity_level = 3
        self.net = ort.InferenceSession(str(path), sess_options=o, providers=["CPUExecutionProvider"])

    def __call__(self, tokens, style, speed):
        """16 kHz samples."""
        import numpy as np
        from scipy.signal import resample_poly

        feed = {"tokens": np.array([[0, *tokens, 0]], np.int64), "style": style.reshape(1, 256).astype(np.float32),
                "speed": np.array([speed], np.float32)}
        return resample_poly(self.net.run(None, feed)[0].ravel(), 2, 3)


def session(path, device="cpu"):
    """Kokoro on a processor core (`cpu`) or on an accelerator (`cuda`)."""
    if device == "cpu":
        return Processor(path)
    from . import onnx_torch

    net = onnx_torch.Net(path, device)
    return lambda tokens, style, speed: onnx_torch.two_thirds(net(tokens, style, speed))


def speak(net, tokens, style, speed):
    """16 kHz samples, float, half of full scale at the peak."""
    y = net(tokens, style, speed)
    return 0.5 * y / max(1e-3, float(abs(y).max()))


def blend(rng, styles, pool, every, row):
    """A style vector and its name: one voice, or two or three of them mixed."""
    k = 1 if rng.random() < 0.4 else 2 if rng.random() < 0.65 else 3
    names = [rng.choice(pool) for _ in range(k)]
    if k > 1 and rng.random() < 0.5:
        names[-1] = rng.choice(every)
    w = [rng.random() + 0.15 for _ in names]
    return sum(a / sum(w) * styles[v][row] for a, v in zip(w, names)), "+".join(names)


def main():
    os.environ["OMP_NUM_THREADS"] = "1"
    import numpy as np

    work, shard, shards, seconds = pathlib.Path(sys.argv[1]), int(sys.argv[2]), int(sys.argv[3]), float(sys.argv[4])
    device = sys.argv[5] if len(sys.argv) > 5 else "cpu"
    end = time.time() + seconds
    texts = json.loads((work / "text.json").read_text())
    styles = {k: v.astype(np.float32) for k, v in np.load(work / "kokoro" / "styles.npz").items() if k not in HELD_OUT}
    every = sorted(styles)
    pools = {c: [v for v in every if v[0] in c] for c in ("a", "b")}
    pools["o"] = [v for v in every if v[0] not in "ab"]
    net = session(work / "kokoro" / "model.onnx", device)
    out = work / "speech"
    out.mkdir(exist_ok=True)
    index = out / f"k{shard}.jsonl"
    lines = index.read_text().splitlines() if index.exists() else []
    at = json.loads(lines[-1]) if lines else None
    ids = list(range(shard, len(texts), shards))
    random.Random(shard).shuffle(ids)
    rng = random.Random(1000 * shard + len(lines))
    audio, start = 0, time.time()
    with open(out / f"k{shard}.pcm", "r+b" if lines else "wb") as pcm, open(index, "a") as f:
        pcm_at = at["pcm"] + at["n"] if at else 0
        pcm.seek(2 * pcm_at)
        for k in range(len(lines), 10 * len(ids)):
            if time.time() > end:
                break
            item = texts[ids[k % len(ids)]]
            r = rng.random()
            accent, pool = ("us", "a") if r < 0.5 else ("gb", "b") if r < 0.82 else (rng.choice(["us", "gb"]), "o")
            tokens = item[accent]
            if not 1 < len(tokens) < 118:
                continue
            style, name = blend(rng, styles, pools[pool], every, len(tokens) - 1)
            y = speak(net, tokens, style, rng.uniform(0.75, 1.35))
            if not np.isfinite(y).all():
                continue
            s16 = (y * 32767).astype("<i2")
            pcm.write(s16.tobytes())
            pcm.flush()
            row = dict(pcm=pcm_at, n=len(s16), t=item["t"], p=item[accent + "p"], who=name)
            f.write(json.dumps(row) + "\n")
            f.flush()
            pcm_at += len(s16)
            audio += len(s16) / 16000
    if shard == 0:
        print(f"shard 0: {audio:.0f} s of speech in {time.time() - start:.0f} s", flush=True)


if __name__ == "__main__":
    main()
