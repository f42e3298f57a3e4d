"""Stage `train`: all layers, from waveforms, noise and rooms made afresh for every batch. A GPU makes minutes of it.

    python -m kitchen.train WORK OUT.npz SECONDS [--init FINAL.mdl|PAR.npz] [--lr X] [--human-only]

Reads WORK/human/*.jsonl (+ .pcm) and WORK/speech/*.jsonl (+ .pcm), which may grow meanwhile: new utterances join between passes, a minute
after they were spoken at most.
OUT.npz holds the running mean of the parameters and is written every minute; give it as --init to go on.
"""

import argparse
import collections
import json
import pathlib
import queue
import random
import threading
import time

import numpy as np

from . import arpa, model

BUCKETS = [2.6, 4.6, 12.0]  # seconds
PHONES = [64, 112, 240]


class Speech:
    """Utterances in one long row of samples, and where each lies in it. When the row is full, new ones of WORK/speech take the place of the
    oldest ones of it."""

    def __init__(self, work, hours):
        self.work, self.row, self.used = pathlib.Path(work), np.zeros(int(hours * 3600 * 16000), np.int16), 0
        self.kept, self.ring, self.at, self.next, self.taken = [], collections.deque(), {}, 0, 0

    @property
    def items(self):
        return [*self.kept, *self.ring]

    def place(self, n, ring):
        """Where `n` samples go; None when there is no room for them."""
        if self.next + n > len(self.row):
            if not ring:
                return None
            while self.ring and self.ring[0][1] >= self.next:
                self.ring.popleft()
            self.next = sum(u[2] for u in self.kept)
        at = self.next
        while self.ring and at <= self.ring[0][1] < at + n:
            self.ring.popleft()
        self.next, self.taken = at + n, self.taken + n
        self.used = max(self.used, self.next)
        return at

    def refresh(self):
        """Take in what was written since."""
        for index in sorted(self.work.glob("human/*.jsonl")) + sorted(self.work.glob("speech/*.jsonl")):
            done, offset = self.at.get(index, (0, 0))
            with open(index, "rb") as f:
                f.seek(offset)
                text = f.read()
            text = text[: text.rfind(b"\n") + 1]
            lines = text.splitlines()
            if not lines:
                continue
            self.at[index] = (done + len(lines), offset + len(text))
            pcm = np.memmap(index.with_suffix(".pcm"), "<i2", "r")
            for line in lines:
                u = json.loads(line)
                ring = index.parent.name == "speech"
                off = self.place(u["n"], ring)
                if off is None:
                    continue
                self.row[off : off + u["n"]] = pcm[u["pcm"] : u["pcm"] + u["n"]]
                ph = model.sentence([[arpa.INDEX[x] for x in w.split()] for w in u["p"]])
                (self.ring if ring else self.kept).append((u.get("set", "kokoro"), off, u["n"], ph, u.get("dev", False)))

    def hours(self):
        """Of all that was ever taken in."""
        return self.taken / 3600 / 16000


def texts(work):
    """The phones of every sentence that is to be spoken."""
    path = work / "text.json"
    rows = json.loads(path.read_text()) if path.exists() else []
    return [model.sentence([[arpa.INDEX[x] for x in w.split()] for w in row[accent]]) for row in rows for accent in ("usp", "gbp")]


def epoch(items, rng, share):
    """One pass: how often each set is drawn, and the batches of it as lists of (off, n, phones, rate, lead, total)."""
    per = [[] for _ in BUCKETS]
    for kind, off, n, ph, dev in items:
        k = share.get(kind, 1.0)
        for _ in range(int(k) + (rng.random() < k - int(k))):
            rate = 1.0 if dev else rng.uniform(0.86, 1.16)
            lead, after = int(rng.uniform(0.12, 0.5) * 16000), int(rng.uniform(0.15, 0.6) * 16000)
            total = lead + int(n / rate) + after
            frames = (1 + (total - 400) // 160 + 2) // 3
            if len(ph[0]) - ph[1].sum() > frames - 4:
                continue
            for b, (s, most) in enumerate(zip(BUCKETS, PHONES)):
                if total <= s * 16000 and len(ph[0]) <= most:
                    per[b].append((off, n, ph, rate, lead, total))
                    break
    return per


def batches(per, rng, seconds):
    out = []
    for b, l in enumerate(per):
        size = max(1, int(seconds / BUCKETS[b]))
        rng.shuffle(l)
        for k in range(0, len(l), size):
            part = l[k : k + size]
            if len(part) > size // 2 or len(l) < size:
                out.append((b, (part * size)[:size] if len(part) < size else part))
    rng.shuffle(out)
    return out


def arrays(b, part, lm):
    off, n, ph, rate, lead, total = zip(*part)
    return (np.array(off, np.int32), np.array(n, np.int32), np.array(rate, np.float32), np.array(lead, np.int32), np.array(total, np.int32),
            *model.numerator(ph, lm, PHONES[b]))


def compiled(step, seconds, first):
    """The step for each length of batch, compiled side by side (and kept in WORK/compiled for the next run)."""
    import concurrent.futures

    import jax

    def one(b):
        n = max(1, int(seconds / BUCKETS[b]))
        whole, real = jax.ShapeDtypeStruct((n,), np.int32), jax.ShapeDtypeStruct((n,), np.float32)
        phones = [jax.ShapeDtypeStruct((n, PHONES[b]), t) for t in (np.int32, *[np.float32] * 4)]
        return step.lower(*first, whole, whole, real, whole, whole, *phones, size=int(BUCKETS[b] * 16000)).compile()

    with concurrent.futures.ThreadPoolExecutor() as pool:
        return list(pool.map(one, range(len(BUCKETS))))


def main():
    import jax
    import jax.numpy as jnp

    from . import augment

    ap = argparse.ArgumentParser()
    ap.add_argument("work")
    ap.add_argument("out")
    ap.add_argument("seconds", type=float)
    ap.add_argument("--init", required=True)
    ap.add_argument("--base", help="final.mdl that the batch-norm scales come from (default: --init)")
    ap.add_argument("--lr", type=float, default=8e-4)
    ap.add_argument("--fine", type=float, default=0.5, help="rate of the layers below the head, as a share")
    ap.add_argument("--batch", type=float, default=480.0, help="seconds of speech in a batch")
    ap.add_argument("--hold", type=float, default=0.4, help="share of the time at the full rate")
    ap.add_argument("--hours", type=float, default=14.0, help="room for this much speech; 37 at most")
    ap.add_argument("--steps", type=int, default=10**9)
    ap.add_argument("--share", default="{}", help="JSON: how often a set is drawn in a pass")
    ap.add_argument("--no-check", action="store_true", help="do not measure on held-out speech while training")
    ap.add_argument("--snr", type=float, default=-2.0)
    a = ap.parse_args()
    work = pathlib.Path(a.work)
    jax.config.update("jax_compilation_cache_dir", str(work / "compiled"))
    t0 = time.time()
    speech = Speech(work, a.hours)
    speech.refresh()
    print(f"{len(speech.items)} utterances, {speech.hours():.2f} h, {time.time() - t0:.0f} s", flush=True)
    par, norm = model.initial(a.base or a.init)
    if a.init.endswith(".npz"):
        z = np.load(a.init)
        par = {k: z[k].astype(np.float32) for k in z.files if k in par}
    par = {k: jnp.asarray(v) for k, v in par.items()}
    norm = {k: {x: jnp.asarray(y) for x, y in v.items()} for k, v in norm.items()}
    lm = model.bigram([*texts(work), *(u[3] for u in speech.items)])
    lmj = tuple(map(jnp.asarray, lm))
    noise = jnp.asarray(np.load(work / "noise.npy"))
    share = {"digits": 0.5, "digit-rows": 1.0, "words": 0.7, "word-pairs": 1.0, "sentences": 1.0, "old": 1.0, "kokoro": 1.0, **json.loads(a.share)}

    def loss(p, row, used, key, size, off, n, rate, lead, total, *num):
        k1, k2, k3 = jax.random.split(key, 3)
        x = jax.lax.stop_gradient(augment.kitchen(row, used, noise, k1, off, n, rate, lead, total, size, a.snr))
        warp = jax.random.randint(k2, off.shape, 0, len(augment.WARPS))
        feats = jax.lax.stop_gradient(augment.mfcc(x, warp))
        valid = 1 + (total - 400) // 160
        frames = (valid + 2) // 3
        out = model.outputs(p, norm, feats, valid)
        obj = model.objective(out, frames, lmj, num)
        good = jnp.isfinite(obj) & (obj > -1e6)
        obj = jnp.where(good, obj, 0.0)
        mask = jnp.arange(out.shape[1])[None] < frames[:, None]
        norm2 = ((out**2).sum(2) * mask).sum()
        return -(obj.sum() / frames.sum()) + 5e-5 * norm2 / frames.sum(), obj.sum() / frames.sum()

    def update(p, m, v, ema, lr, i, *data, size):
        (_, obj), g = jax.value_and_grad(loss, has_aux=True)(p, *data[:3], size, *data[3:])
        gn = jnp.sqrt(sum((x**2).sum() for x in g.values()))
        ok = jnp.isfinite(gn)
        scale = jnp.where(ok, jnp.minimum(1.0, 0.5 / (gn + 1e-9)), 0.0)
        q, m2, v2, e2 = {}, {}, {}, {}
        for k in p:
            x = jnp.where(ok, g[k], 0.0) * scale
            m2[k], v2[k] = 0.9 * m[k] + 0.1 * x, 0.99 * v[k] + 0.01 * x * x
            r = lr * (1.0 if k[0] in "pq" else 0.2 * a.fine if k in ("w0", "c0") else a.fine)
            q[k] = p[k] - r * (m2[k] / (1 - 0.9**i)) / (jnp.sqrt(v2[k] / (1 - 0.99**i)) + 1e-8)
            e2[k] = ema[k] + jnp.maximum(0.002, 1.0 / (i + 1)) * (q[k] - ema[k])
        return q, m2, v2, e2, obj, gn

    step = jax.jit(update, static_argnames="size", donate_argnums=(0, 1, 2, 3))
    check = jax.jit(lambda *x: loss(*x)[1], static_argnums=4)
    rng = random.Random(int(time.time()))
    state = {"row": jnp.asarray(speech.row), "used": speech.used}
    todo = queue.Queue(maxsize=24)

    def feeder():
        n, fresh = 0, time.time()
        while True:
            live = [u for u in speech.items if not u[4]]
            for b, part in batches(epoch(live, rng, share), rng, a.batch):
                todo.put((n, b, arrays(b, part, lm)))
            n += 1
            if time.time() - fresh < 45:
                continue
            before, fresh = speech.taken, time.time()
            speech.refresh()
            if speech.taken > before:
                todo.put((n, -1, None))

    dev_rng = random.Random(5)
    dev = [] if a.no_check else batches(epoch([u for u in speech.items if u[4]], dev_rng, {}), dev_rng, a.batch)
    dev = [(b, arrays(b, part, lm)) for b, part in dev]
    m = {k: jnp.zeros_like(x) for k, x in par.items()}
    v = {k: jnp.zeros_like(x) for k, x in par.items()}
    ema = {k: x + 0 for k, x in par.items()}
    key = jax.random.PRNGKey(int(time.time()))
    begun = time.time()
    steps = compiled(step, a.batch, (par, m, v, ema, 0.0, 1.0, state["row"], state["used"], key))
    print(f"compiled in {time.time() - begun:.0f} s", flush=True)
    speech.refresh()
    state = {"row": jnp.asarray(speech.row), "used": speech.used}
    threading.Thread(target=feeder, daemon=True).start()
    i, acc, last, saved, begun = 0, [], time.time(), time.time(), time.time()

    def save():
        np.savez(a.out + ".part.npz", **{k: np.asarray(x) for k, x in ema.items()})
        pathlib.Path(a.out + ".part.npz").rename(a.out)
        if dev:
            o = [(float(check(ema, state["row"], state["used"], jax.random.PRNGKey(k), int(BUCKETS[b] * 16000), *map(jnp.asarray, d))),
                  int(d[4].sum())) for k, (b, d) in enumerate(dev)]
            print(f"    held-out {sum(x * w for x, w in o) / sum(w for _, w in o):.4f} after {time.time() - begun:.0f} s", flush=True)

    while i < a.steps:
        done = (time.time() - begun) / a.seconds
        if done >= 1:
            break
        n, b, data = todo.get()
        if b < 0:
            state["row"], state["used"] = jnp.asarray(speech.row), speech.used
            print(f"    pass {n}: {len(speech.items)} utterances, {speech.hours():.2f} h", flush=True)
            continue
        i += 1
        key, k = jax.random.split(key)
        lr = a.lr * min(1, i / 200) * (1 if done < a.hold else max(0.02, 1 - (done - a.hold) / (1 - a.hold)))
        par, m, v, ema, obj, gn = steps[b](par, m, v, ema, lr, float(i), state["row"], state["used"], k, *map(jnp.asarray, data))
        acc.append((obj, gn))
        if i % 100 == 0 or i <= 3:
            o = float(np.mean([float(x) for x, _ in acc]))
            print(f"pass {n} step {i} {time.time() - begun:.0f} s objective {o:.4f} gradient {float(gn):.3f} rate {lr:.1e} "
                  f"{len(acc) * a.batch / (time.time() - last):.0f} s/s", flush=True)
            acc, last = [], time.time()
        if time.time() - saved > 60:
            save()
            saved = time.time()
    save()
    print("saved", a.out, i, "steps", f"{speech.hours():.2f} h", flush=True)
    import os

    os._exit(0)


if __name__ == "__main__":
    main()
