"""Stage `recorded`: kitchens put together from real recordings.

    python -m kitchen.recorded OUT.npy SECONDS SEED BEDS STROKES [PROCESSES] [--held-out]

BEDS is a folder of long recordings (rooms, water, machines, crackling, rain), STROKES a folder of short ones (metal, glass, wood, water, doors;
`.wav`, `.ogg`, `.opus`, `.flac`, and the samples inside `.sf2` sound fonts), each in any folder below. A scene is a bed, or a hum or hiss of `kitchen.noise`, with
bursts of strokes over it as somebody puts pans and dishes down, machines that start and stop, and now and then a second bed. Recordings
named in HELD_OUT are kept out of training and are all that `--held-out` uses; of the strokes every fifth is. None of the recordings
belongs into the repository; `python -m kitchen.recorded --list BEDS` says which are held out.
"""

import multiprocessing
import pathlib
import sys

import numpy as np
from scipy.signal import fftconvolve, resample_poly

from . import noise
from .noise import RATE, unit

HELD_OUT = {
    "places-cafe", "places-restaurant", "places-laundry-room", "things-washing-machine", "things-boiling-water", "nature-waterfall",
    "things-ceiling-fan", "transport-inside-a-train", "rain-on-window", "things-paper",
}
SOUND = {".wav", ".ogg", ".opus", ".flac"}


def load(path):
    """Mono samples at 16 kHz."""
    import soundfile as sf

    y, rate = sf.read(path, dtype="float32")
    y = y.mean(1) if y.ndim > 1 else y
    g = np.gcd(RATE, rate)
    return resample_poly(y, RATE // g, rate // g).astype(np.float32) if rate != RATE else y


def font(path):
    """The samples of a sound font (SoundFont 2.04: chunks `smpl`, 16 bit, and `shdr`, 46 bytes a sample)."""
    data = path.read_bytes()
    body, heads = (data.index(tag) for tag in (b"smpl", b"shdr"))
    size = lambda at: int.from_bytes(data[at + 4 : at + 8], "little")
    samples = np.frombuffer(data[body + 8 : body + 8 + size(body) // 2 * 2], "<i2").astype(np.float32) / 32768
    for at in range(heads + 8, heads + 8 + size(heads) - 46, 46):
        start, end, _, _, rate = np.frombuffer(data[at + 20 : at + 40], "<u4")
        if rate and end > start:
            g = np.gcd(RATE, int(rate))
            yield resample_poly(samples[start:end][: 3 * rate], RATE // g, int(rate) // g).astype(np.float32)


def split(held, beds, strokes):
    """The beds and strokes of training, or those that are held out."""
    chosen = [load(p) for p in sorted(pathlib.Path(beds).rglob("*")) if p.suffix in SOUND and (p.stem in HELD_OUT) == held]
    every = []
    for p in sorted(pathlib.Path(strokes).rglob("*")):
        if p.suffix in SOUND:
            every.append(load(p))
        elif p.suffix == ".sf2":
            every += font(p)
    some = [y[: 2 * RATE] for k, y in enumerate(every) if (k % 5 == 0) == held and len(y) > 400 and np.abs(y).max() > 1e-3]
    return [unit(y - y.mean()) for y in chosen if len(y) > RATE], [y / np.abs(y).max() for y in some]


def piece(rng, beds, n):
    """Some of a bed, a little faster or slower, with its ends joined softly where it is too short."""
    y = beds[rng.integers(len(beds))]
    rate = rng.uniform(0.85, 1.2)
    need = int(n * rate) + 2
    if len(y) < need + 800:
        fade = np.linspace(0, 1, 800, dtype=np.float32)
        loop = np.concatenate([y[800:-800], y[-800:] * fade[::-1] + y[:800] * fade])
        y = np.tile(loop, need // len(loop) + 2)
    s = rng.integers(0, len(y) - need)
    return unit(np.interp(np.arange(n) * rate, np.arange(need), y[s : s + need]))


def bursts(rng, strokes, n, room):
    """Pans, dishes, cutlery and doors: strokes in bursts, each at its own pitch and loudness, in one room."""
    y = np.zeros(n + 3 * RATE, np.float32)
    s = rng.exponential(1.5) * RATE
    while s < n:
        at, same = s, strokes[rng.integers(len(strokes))]
        for _ in range(1 + rng.geometric(0.35)):
            stroke = same if rng.random() < 0.6 else strokes[rng.integers(len(strokes))]
            rate = 2 ** rng.uniform(-0.7, 0.9)
            m = int(len(stroke) / rate)
            d = np.interp(np.arange(m) * rate, np.arange(len(stroke)), stroke) * 10 ** (rng.uniform(-24, 0) / 20)
            e = min(len(y), int(at) + m)
            y[int(at) : e] += d[: e - int(at)]
            at += rng.uniform(0.04, 0.6) * RATE
            if at > n:
                break
        s = at + rng.exponential(rng.choice([0.8, 2.0, 5.0])) * RATE
    return fftconvolve(y, room)[:n]


def gate(rng, n):
    """A machine that is switched on and off, with the time that its motor takes."""
    g, at, on = np.zeros(n), 0, rng.random() < 0.5
    while at < n:
        m = int(rng.uniform(0.5, 6.0) * RATE)
        g[at : at + m] = 1.0 if on else 10 ** (-rng.uniform(12, 40) / 20)
        at, on = at + m, not on
    ramp = np.hanning(int(rng.uniform(0.02, 0.5) * RATE) | 1)
    return fftconvolve(g, ramp / ramp.sum(), mode="same")


def scene(rng, beds, strokes, seconds):
    n = int(seconds * RATE)
    t = np.arange(int(rng.uniform(0.1, 0.6) * RATE)) / RATE
    room = rng.normal(size=len(t)) * np.exp(-6.9 * t / (len(t) / RATE)) * 0.15
    room[0] = 1.0
    r = rng.random()
    y = piece(rng, beds, n) if r < 0.65 else noise.scene(rng, seconds)[:n] if r < 0.9 else 1e-3 * rng.normal(size=n)
    if rng.random() < 0.3:
        y = y + 10 ** (rng.uniform(-12, 4) / 20) * piece(rng, beds, n)
    if rng.random() < 0.3:
        machine = rng.choice([noise.mixer, noise.hood, noise.tap, noise.frying])
        y = y + 10 ** (rng.uniform(-8, 6) / 20) * unit(machine(rng, n)[:n]) * gate(rng, n)
    if rng.random() < 0.55:
        d = bursts(rng, strokes, n, room)
        peak = np.abs(d).max()
        if peak > 0:
            # By its peak against the steady part: short, loud and bright.
            y = y + d / peak * 10 ** (rng.uniform(0, 26) / 20) * (np.sqrt(np.mean(y**2)) + 0.02)
    return unit(y)


def make(args):
    seed, seconds, held, beds, strokes = args
    rng = np.random.default_rng(seed)
    beds, strokes = split(held, beds, strokes)
    out = []
    while sum(map(len, out)) < seconds * RATE:
        out.append(np.clip(scene(rng, beds, strokes, rng.uniform(6, 15)) * 2000, -32767, 32767).astype(np.int16))
    return np.concatenate(out)


def main():
    words = [x for x in sys.argv[1:] if x != "--held-out"]
    if words[0] == "--list":
        for p in sorted(pathlib.Path(words[1]).rglob("*")):
            if p.suffix in SOUND:
                print("held out" if p.stem in HELD_OUT else "training", p.stem)
        return
    path, seconds, seed, beds, strokes = words[0], float(words[1]), int(words[2]), words[3], words[4]
    workers = int(words[5]) if len(words) > 5 else 2
    each = seconds / (4 * workers)
    jobs = [(seed * 1000 + k, each, "--held-out" in sys.argv, beds, strokes) for k in range(4 * workers)]
    with multiprocessing.Pool(workers) as pool:
        bank = np.concatenate(pool.map(make, jobs, 1))
    np.save(path, bank)
    print(len(bank) / RATE, "s of noise")


if __name__ == "__main__":
    main()
