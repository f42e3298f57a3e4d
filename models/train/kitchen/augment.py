"""Speech as a kitchen microphone hears it, and its features, in JAX: made afresh on the accelerator for every batch."""

import jax
import jax.numpy as jnp
import numpy as np

RATE = 16000
WARPS = np.linspace(0.86, 1.14, 9)


def _mel(f):
    return 1127.0 * np.log1p(f / 700.0)


def mel_banks(warps=WARPS, bins=40, low=20.0, high=7600.0, fft=512):
    """Kaldi's triangular filters, one bank for each warp of the frequency axis (vocal tract length)."""
    edges = np.linspace(_mel(low), _mel(high), bins + 2)
    out = []
    for a in warps:
        m = _mel(np.minimum(np.arange(fft // 2 + 1) * RATE / fft * a, 8000.0))[:, None]
        up, down = (m - edges[:-2]) / (edges[1:-1] - edges[:-2]), (edges[2:] - m) / (edges[2:] - edges[1:-1])
        w = np.maximum(0, np.minimum(up, down))
        w[-1] = 0
        out.append(w)
    return np.stack(out).astype(np.float32)


def dct(bins=40, lifter=22.0):
    """Kaldi's cosine transform with its cepstral lifter."""
    k = np.arange(bins)
    m = np.sqrt(2.0 / bins) * np.cos(np.pi / bins * (np.arange(bins) + 0.5)[None] * k[:, None])
    m[0] = np.sqrt(1.0 / bins)
    return (m * (1 + 0.5 * lifter * np.sin(np.pi * k / lifter))[:, None]).astype(np.float32)


BANKS, DCT = mel_banks(), dct()
WINDOW = ((0.5 - 0.5 * np.cos(2 * np.pi * np.arange(400) / 399)) ** 0.85).astype(np.float32)


def mfcc(x, warp):
    """Forty cepstra every 10 ms of x [B, N] (16-bit scale); `warp` [B] picks the filter bank (4 is none)."""
    frames = 1 + (x.shape[1] - 400) // 160
    at = jnp.arange(frames)[:, None] * 160 + jnp.arange(400)[None]
    f = x[:, at]
    f = f - f.mean(-1, keepdims=True)
    f = f - 0.97 * jnp.concatenate([f[..., :1], f[..., :-1]], -1)
    power = jnp.abs(jnp.fft.rfft(f * WINDOW, 512)) ** 2
    banks = jnp.asarray(BANKS)[warp]
    mel = jnp.einsum("btf,bfm->btm", power, banks, precision="highest")
    return jnp.einsum("btm,cm->btc", jnp.log(jnp.maximum(mel, 1.1920929e-07)), jnp.asarray(DCT), precision="highest")


def _unit(x):
    return x / (jnp.sqrt(jnp.mean(x**2, -1, keepdims=True)) + 1e-6)


def _curve(key, batch, freqs, decibels, knots=7):
    """A smooth random gain over frequency, [B, F]."""
    y = jax.random.uniform(key, (batch, knots), minval=-decibels, maxval=decibels)
    x = np.log(np.maximum(freqs, 60) / 60) / np.log(8000 / 60) * (knots - 1)
    i = np.minimum(x.astype(int), knots - 2)
    return 10 ** ((y[:, i] * (1 - (x - i)) + y[:, i + 1] * (x - i)) / 20)


def _stretch(speech, off, length, rate, lead, size):
    """Utterances cut from one long row of speech, resampled by `rate` with an eight-point windowed sinc."""
    pos = (jnp.arange(size)[None] - lead[:, None]).astype(jnp.float32) * rate[:, None]
    base = jnp.floor(pos).astype(jnp.int32)
    frac = pos - base
    y = 0.0
    for k in range(-3, 5):
        d = frac - k
        w = jnp.sinc(d) * jnp.cos(jnp.clip(d / 8.0, -0.5, 0.5) * np.pi) ** 2
        i = base + k
        y = y + jnp.where((i >= 0) & (i < length[:, None]), w * speech[jnp.clip(off[:, None] + i, 0, speech.shape[0] - 1)], 0.0)
    return y / 32768.0


def _cut(row, start, size):
    return row[(start[:, None] + jnp.arange(size)[None]) % row.shape[0]].astype(jnp.float32)


def kitchen(speech, spoken, noise, key, off, length, rate, lead, total, size, snr_low=-2.0):
    """Noisy, reverberant waveforms [B, size] of 16-bit scale. `spoken` is how much of `speech` is filled."""
    batch = off.shape[0]
    ks = jax.random.split(key, 24)
    uni = lambda k, lo, hi, shape=(batch, 1): jax.random.uniform(k, shape, minval=lo, maxval=hi)
    x = _stretch(speech, off, length, rate, lead, size)
    x = x / (jnp.abs(x).max(-1, keepdims=True) + 1e-6)
    tail = 8192
    n = size + tail
    n += (-n) % 4096
    freqs = np.fft.rfftfreq(n, 1 / RATE)
    # room
    t = jnp.arange(tail)[None] / RATE
    rt = uni(ks[0], 0.08, 0.6)
    r = jax.random.normal(ks[1], (batch, tail)) * jnp.exp(-6.9 * t / rt) * (t > uni(ks[2], 0.001, 0.015))
    r = r / (jnp.sqrt((r**2).sum(-1, keepdims=True)) + 1e-9) * uni(ks[3], 0.1, 1.0) * (uni(ks[4], 0, 1) < 0.6)
    h = jnp.fft.rfft(r, n) * _curve(ks[5], batch, freqs, 6.0) + 1.0
    s = jnp.fft.irfft(jnp.fft.rfft(x, n) * h, n)[:, :size]
    loud = jnp.abs(s) > 0.03 * jnp.abs(s).max(-1, keepdims=True)
    level = jnp.sqrt((s**2 * loud).sum(-1, keepdims=True) / (loud.sum(-1, keepdims=True) + 1)) + 1e-6
    # noise: from the bank, coloured, babble
    start = jax.random.randint(ks[6], (batch,), 0, noise.shape[0])
    bank = _unit(_cut(noise, start, n))
    white = jax.random.normal(ks[7], (batch, n))
    slope = uni(ks[8], -0.1, 1.1)
    white = _unit(jnp.fft.irfft(jnp.fft.rfft(white) * jnp.maximum(freqs, 30.0)[None] ** -slope, n))
    babble = 0.0
    for k in range(4):
        start = jax.random.randint(jax.random.fold_in(ks[9], k), (batch,), 0, spoken)
        babble = babble + uni(jax.random.fold_in(ks[10], k), 0.2, 1.0) * _unit(_cut(speech, start, n))
    babble = _unit(babble)
    u = uni(ks[11], 0, 1)
    mix = jnp.where(u < 0.5, bank, jnp.where(u < 0.65, white, jnp.where(u < 0.8, babble, jnp.where(u < 0.93, bank + 0.6 * babble, bank + white))))
    mix = _unit(jnp.fft.irfft(jnp.fft.rfft(mix) * _curve(ks[12], batch, freqs, 5.0), n)[:, :size])
    u = uni(ks[13], 0, 1)
    snr = jnp.where(u < 0.8, uni(ks[14], snr_low, 25.0), uni(ks[15], 25.0, 55.0))
    y = s + mix * level * 10 ** (-snr / 20)
    # microphone: response, narrow band now and then, level, clipping
    eq = _curve(ks[16], batch, freqs, 6.0)
    corner = uni(ks[17], 3300.0, 6500.0)
    narrow = 1 / (1 + (freqs[None] / corner) ** 8)
    eq = eq * jnp.where(uni(ks[18], 0, 1) < 0.12, narrow, 1.0)
    y = jnp.fft.irfft(jnp.fft.rfft(y, n) * eq, n)[:, :size]
    y = y / (jnp.abs(y).max(-1, keepdims=True) + 1e-6)
    y = jnp.where(uni(ks[19], 0, 1) < 0.05, jnp.clip(y * uni(ks[20], 1.0, 3.0), -1, 1), y)
    y = y * 10 ** (-uni(ks[21], 0.0, 28.0) / 20) * 32000.0
    return y + jax.random.normal(ks[22], y.shape)
