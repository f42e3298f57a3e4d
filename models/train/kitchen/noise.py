"""Stage `noise`: a bank of kitchen noise, synthesised.

    python -m kitchen.noise OUT.npy SECONDS SEED [PROCESSES]

Extractor hoods, taps, frying, boiling, clatter, chopping, mixers, fridges, kettles and music-like tones, each by a model of how it
sounds rather than from a recording (no kitchen recording with a known licence is in a package).
"""

import multiprocessing
import sys

import numpy as np
from scipy.signal import lfilter

RATE = 16000


def unit(x):
    return x / (np.sqrt(np.mean(x**2)) + 1e-9)


def coloured(rng, n, slope):
    """Noise whose amplitude falls as frequency to the `slope`."""
    s = np.fft.rfft(rng.normal(size=n))
    return unit(np.fft.irfft(s * np.maximum(np.arange(len(s)), 1.0) ** -slope, n))


def band(rng, n, low, high, slope=0.0):
    s = np.fft.rfft(rng.normal(size=n))
    f = np.fft.rfftfreq(n, 1 / RATE)
    return unit(np.fft.irfft(s * np.maximum(f, 20) ** -slope / (1 + (low / np.maximum(f, 1)) ** 4) / (1 + (f / high) ** 4), n))


def slow(rng, n, low, high, every):
    """A gain in decibels that wanders."""
    k = max(2, int(n / RATE / every) + 2)
    return 10 ** (np.interp(np.arange(n), np.linspace(0, n, k), rng.uniform(low, high, k)) / 20)


def hood(rng, n):
    t = np.arange(n) / RATE
    f = rng.uniform(45, 240) * (1 + 0.01 * np.sin(2 * np.pi * rng.uniform(0.1, 2) * t))
    phase = 2 * np.pi * np.cumsum(f) / RATE
    hum = sum(rng.uniform(0, 1) / h ** rng.uniform(0.3, 1.4) * np.sin(h * phase + rng.uniform(0, 6)) for h in range(1, rng.integers(4, 20)))
    return unit(hum) * 10 ** (rng.uniform(-18, 0) / 20) + coloured(rng, n, rng.uniform(0.2, 0.9))


def tap(rng, n):
    y = band(rng, n, rng.uniform(150, 900), rng.uniform(3000, 7900), rng.uniform(-0.2, 0.4))
    flutter = np.abs(lfilter([1], [1, -0.995], rng.normal(size=n)))
    return y * (1 + rng.uniform(0, 1.5) * flutter / flutter.mean()) * slow(rng, n, -8, 3, 1.0)


def frying(rng, n):
    y = band(rng, n, rng.uniform(800, 2500), 7900, rng.uniform(-0.3, 0.2)) * slow(rng, n, -4, 4, 0.5)
    pops = np.zeros(n)
    at = rng.integers(0, n, int(n / RATE * rng.uniform(5, 60)))
    pops[at] = rng.exponential(1, len(at)) * rng.choice([-1, 1], len(at))
    return y + unit(lfilter([1], [1, -rng.uniform(0.2, 0.9)], pops)) * rng.uniform(0.2, 1.2)


def boiling(rng, n):
    y = np.zeros(n)
    for _ in range(int(n / RATE * rng.uniform(15, 60))):
        m = int(rng.uniform(0.01, 0.06) * RATE)
        s, t = rng.integers(0, n), np.arange(m) / RATE
        e = min(n, s + m)
        y[s:e] += (rng.uniform(0.2, 1) * np.sin(2 * np.pi * (rng.uniform(200, 900) * t + rng.uniform(0, 4000) * t**2)) * np.hanning(m))[: e - s]
    return unit(y) + coloured(rng, n, 0.6) * rng.uniform(0.1, 0.7)


def clatter(rng, n):
    y = np.zeros(n)
    for _ in range(rng.integers(2, 4 + int(n / RATE * 4))):
        m = int(rng.uniform(0.02, 0.4) * RATE)
        t = np.arange(m) / RATE
        d = sum(rng.uniform(0.2, 1) * np.sin(2 * np.pi * rng.uniform(400, 7000) * t + rng.uniform(0, 6)) * np.exp(-t * rng.uniform(8, 90))
                for _ in range(rng.integers(2, 8)))
        d = d + rng.uniform(0, 1) * rng.normal(size=m) * np.exp(-t * rng.uniform(40, 400))
        s = rng.integers(0, n)
        e = min(n, s + m)
        y[s:e] += (d * 10 ** (rng.uniform(-20, 0) / 20))[: e - s]
    return unit(y) + coloured(rng, n, 0.5) * 10 ** (rng.uniform(-35, -8) / 20)


def chopping(rng, n):
    y, s, gap = np.zeros(n), 0, rng.uniform(0.12, 0.5)
    while s < n:
        m = int(rng.uniform(0.03, 0.12) * RATE)
        t = np.arange(m) / RATE
        d = np.sin(2 * np.pi * rng.uniform(80, 400) * t) * np.exp(-t * 40) + rng.normal(size=m) * np.exp(-t * rng.uniform(100, 500))
        e = min(n, s + m)
        y[s:e] += (d * rng.uniform(0.4, 1))[: e - s]
        s += int(gap * rng.uniform(0.85, 1.2) * RATE)
    return unit(y) + coloured(rng, n, 0.6) * 10 ** (rng.uniform(-30, -6) / 20)


def mixer(rng, n):
    t = np.arange(n) / RATE
    f = rng.uniform(90, 420) * slow(rng, n, -2, 2, 1.5)
    phase = 2 * np.pi * np.cumsum(f) / RATE
    y = sum(rng.uniform(0.1, 1) / h ** rng.uniform(0, 0.9) * np.sin(h * phase + rng.uniform(0, 6)) for h in range(1, rng.integers(8, 24)))
    return unit(y * (1 + 0.3 * np.sin(2 * np.pi * rng.uniform(2, 14) * t))) + band(rng, n, 300, 7500) * rng.uniform(0.2, 1.2)


def fridge(rng, n):
    t = np.arange(n) / RATE
    f = rng.choice([50.0, 60.0, 100.0, 120.0])
    y = sum(rng.uniform(0, 1) / h * np.sin(2 * np.pi * f * h * t + rng.uniform(0, 6)) for h in range(1, 9))
    return unit(y) + coloured(rng, n, rng.uniform(0.5, 1.1)) * rng.uniform(0.5, 2)


def kettle(rng, n):
    return coloured(rng, n, rng.uniform(0.1, 0.7)) * np.linspace(rng.uniform(0.2, 1), rng.uniform(0.4, 1.5), n) + boiling(rng, n) * rng.uniform(0, 0.6)


def music(rng, n):
    t, y = np.arange(n) / RATE, np.zeros(n)
    beat = int(rng.uniform(0.15, 0.5) * RATE)
    for s in range(0, n, beat):
        m = min(n - s, int(rng.uniform(0.3, 1) * RATE))
        for _ in range(rng.integers(1, 5)):
            f = 110 * 2 ** (rng.integers(0, 40) / 12)
            for h in range(1, 7):
                if f * h < 7800:
                    y[s : s + m] += np.sin(2 * np.pi * f * h * t[:m]) / h**1.3 * np.exp(-t[:m] * rng.uniform(1, 6))
        if rng.random() < 0.5:
            m = min(n - s, 1600)
            y[s : s + m] += 2 * rng.normal(size=m) * np.exp(-t[:m] * rng.uniform(30, 120))
    return unit(y) + 0.05 * rng.normal(size=n)


KINDS = {hood: 4, tap: 4, frying: 3, boiling: 2, clatter: 5, chopping: 2, mixer: 2, fridge: 1, kettle: 1, music: 3}


def scene(rng, seconds):
    """Some seconds of one kind, or of two at once."""
    n = int(seconds * RATE)
    kinds, weights = list(KINDS), np.array(list(KINDS.values()), float)
    pick = lambda: kinds[rng.choice(len(kinds), p=weights / weights.sum())]
    y = unit(pick()(rng, n))
    if rng.random() < 0.5:
        y = y + 10 ** (rng.uniform(-12, 3) / 20) * unit(pick()(rng, n))
    return unit(y)


def make(args):
    seed, seconds = args
    rng = np.random.default_rng(seed)
    out = []
    while sum(map(len, out)) < seconds * RATE:
        y = scene(rng, rng.uniform(5, 12))
        out.append(np.clip(y * 3000, -32767, 32767).astype(np.int16))
    return np.concatenate(out)


def main():
    path, seconds, seed = sys.argv[1], float(sys.argv[2]), int(sys.argv[3])
    workers = int(sys.argv[4]) if len(sys.argv) > 4 else 2
    jobs = [(seed * 1000 + i, 60.0) for i in range(max(1, int(seconds // 60)))]
    with multiprocessing.Pool(workers) as pool:
        bank = np.concatenate(pool.map(make, jobs, 1))
    np.save(path, bank)
    print(len(bank) / RATE, "s of noise")


if __name__ == "__main__":
    main()
