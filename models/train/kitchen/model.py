"""The network (tdnn-f, as the small Vosk models have it) and its objective (lattice-free MMI without alignments), in JAX.

Forty context-free phones with two outputs each, 'entering' and 'staying' (Kaldi's chain topology). The denominator is a
phone bigram; the numerator is the sentence with silence allowed between words.
"""

import jax
import jax.numpy as jnp
import numpy as np

from . import kaldi

NEG = -1e30
LOW, HIGH = range(2, 5), range(6, 16)  # factored layers at 10 ms and at 30 ms; layer 5 looks at one frame only
CONTEXT = 34


RANK = 96  # of the factored layers


def initial(path, head=512, seed=0):
    """(parameters, fixed batch-norm scales) from a final.mdl of this architecture; a narrower head or rank is widened without
    changing what the network says."""
    c = {n: kaldi.params(t, b) for n, (t, b) in kaldi.load(path).items()}
    par = {"w0": c["lda"]["W"][:, :120], "c0": c["lda"]["b"], "w1": c["tdnn1.affine"]["W"], "c1": c["tdnn1.affine"]["b"]}
    norm, rng = {1: c["tdnn1.batchnorm"]}, np.random.default_rng(seed)
    for k in range(2, 16):
        par[f"l{k}"], par[f"a{k}"] = _wider(c[f"tdnnf{k}.linear"]["W"], c[f"tdnnf{k}.affine"]["W"], rng)
        par[f"b{k}"] = c[f"tdnnf{k}.affine"]["b"]
        norm[k] = c[f"tdnnf{k}.batchnorm"]
    if "pre.affine" in c:
        w, b, o = c["pre.affine"]["W"], c["pre.affine"]["b"], c["output.affine"]["W"]
        bias = c["output.affine"]["b"]
    else:
        w, b, o, bias = np.zeros((0, 768)), np.zeros(0), np.zeros((80, 0)), np.zeros(80)
    more = max(0, head - len(b))
    par["p1"] = np.concatenate([w, rng.normal(size=(more, 768)) / np.sqrt(768)])
    par["q1"] = np.concatenate([b, np.zeros(more)])
    par["p2"] = np.concatenate([o, rng.normal(size=(80, more)) * 0.01], 1)
    par["q2"] = bias
    return {k: np.asarray(v, np.float32) for k, v in par.items()}, norm


def _wider(linear, affine, rng):
    """A factored layer with RANK rows in between: the new ones are drawn at random and not yet used."""
    rank, inside = linear.shape
    more = max(0, RANK - rank)
    new = rng.normal(size=(more, inside)) * linear.std()
    parts = np.split(affine, affine.shape[1] // rank, 1)
    unused = np.zeros((affine.shape[0], more))
    return np.concatenate([linear, new]), np.concatenate([x for part in parts for x in (part, unused)], 1)


def outputs(par, norm, feats, valid):
    """Logits [B, n, 80] every 30 ms of features [B, T, 40]; frames past `valid` [B] repeat the last, as Kaldi does."""
    size = feats.shape[1]
    n = (size + 2) // 3
    at = jnp.clip(jnp.arange(-CONTEXT, 3 * (n - 1) + CONTEXT + 1)[None], 0, valid[:, None] - 1)
    x = jnp.take_along_axis(feats, at[..., None], 1)
    bn = lambda y, k: jnp.maximum(y, 0) * norm[k]["s"] + norm[k]["o"]
    x = jnp.concatenate([x[:, :-2], x[:, 1:-1], x[:, 2:]], -1)
    h = bn((x @ par["w0"].T + par["c0"]) @ par["w1"].T + par["c1"], 1)

    def factored(h, k):
        l, a = par[f"l{k}"], par[f"a{k}"]
        z, r = h[:, :-1] @ l[:, :768].T + h[:, 1:] @ l[:, 768:].T, l.shape[0]
        y = z[:, :-1] @ a[:, :r].T + z[:, 1:] @ a[:, r:].T + par[f"b{k}"]
        return 0.66 * h[:, 1:-1] + bn(y, k)

    for k in LOW:
        h = factored(h, k)
    h = h[:, ::3]
    h = 0.66 * h + bn((h @ par["l5"].T) @ par["a5"].T + par["b5"], 5)
    for k in HIGH:
        h = factored(h, k)
    return jnp.maximum(h @ par["p1"].T + par["q1"], 0) @ par["p2"].T + par["q2"]


def objective(out, frames, lm, num):
    """(numerator - denominator) log-likelihood of each utterance.

    `lm`: log bigram [40, 40] and log start [40]. `num`: phones [B, L], log weights of coming from the previous place `one`, from two
    places back `two`, of starting `start` and of ending `end`.
    """
    bigram, first = lm
    phones, one, two, start, end = num
    enter, stay = out[..., 0::2], out[..., 1::2]
    shape = (*out.shape[:2], phones.shape[1])
    at = jnp.broadcast_to(phones[:, None], shape)
    n_enter, n_stay = jnp.take_along_axis(enter, at, 2), jnp.take_along_axis(stay, at, 2)
    ne, ns = start + n_enter[:, 0], jnp.full(phones.shape, NEG)
    p = jnp.exp(bigram)
    m = enter[:, 0].max(1, keepdims=True)
    de = jnp.exp(first + enter[:, 0] - m)
    s = de.sum(1, keepdims=True)
    de, ds, log = de / s, jnp.zeros_like(de), (m + jnp.log(s))[:, 0]

    def step(c, x):
        ne, ns, de, ds, log = c
        a, b, e, f, t = x
        both = jnp.logaddexp(ne, ns)
        pad = lambda k: jnp.pad(both[:, :-k], ((0, 0), (k, 0)), constant_values=NEG)
        ne2, ns2 = jnp.logaddexp(pad(1) + one, pad(2) + two) + a, both + b
        m = jnp.maximum(e.max(1), f.max(1))[:, None]
        d = de + ds
        de2, ds2 = (d @ p) * jnp.exp(e - m), d * jnp.exp(f - m)
        s = (de2 + ds2).sum(1, keepdims=True)
        on = (t < frames)[:, None]
        keep = lambda new, old: jnp.where(on, new, old)
        return (keep(ne2, ne), keep(ns2, ns), keep(de2 / s, de), keep(ds2 / s, ds), jnp.where(on[:, 0], log + (m + jnp.log(s))[:, 0], log)), None

    time_first = lambda y: y.swapaxes(0, 1)[1:]
    xs = (time_first(n_enter), time_first(n_stay), time_first(enter), time_first(stay), jnp.arange(1, out.shape[1]))
    (ne, ns, _, _, log), _ = jax.lax.scan(step, (ne, ns, de, ds, log), xs)
    return jax.scipy.special.logsumexp(jnp.logaddexp(ne, ns) + end, axis=1) - log


def sentence(words):
    """(phones, optional) of a sentence given as words of phone indices: silence may stand before, between and after."""
    phones, optional = [0], [True]
    for w in words:
        phones += [*w, 0]
        optional += [False] * len(w) + [True]
    return np.array(phones), np.array(optional)


def bigram(sentences):
    """Log phone bigram and start of (phones, optional) pairs, smoothed."""
    c, c0 = np.full((40, 40), 0.3), np.full(40, 0.3)
    for ph, opt in sentences:
        for i in range(1, len(ph)):
            if opt[i - 1] and i > 1:
                c[ph[i - 2], ph[i]] += 0.5
                c[ph[i - 1], ph[i]] += 0.5
                c[ph[i - 2], ph[i - 1]] += 0.5
            elif not opt[i]:
                c[ph[i - 1], ph[i]] += 1
        c0[0] += 0.8
        c0[ph[1]] += 0.2
    c[0, 0] = 0.01
    return np.log(c / c.sum(1, keepdims=True)).astype(np.float32), np.log(c0 / c0.sum()).astype(np.float32)


def numerator(items, lm, size):
    """Arrays of `objective` for a batch of (phones, optional)."""
    log, first = lm
    b = len(items)
    phones = np.zeros((b, size), np.int32)
    one, two, start, end = (np.full((b, size), NEG, np.float32) for _ in range(4))
    for k, (p, opt) in enumerate(items):
        n = len(p)
        phones[k, :n] = p
        one[k, 1:n] = log[p[:-1], p[1:]]
        skip = np.flatnonzero(opt[1 : n - 1]) + 1
        two[k, skip + 1] = log[p[skip - 1], p[skip + 1]]
        start[k, 0], start[k, 1] = first[0], first[p[1]]
        end[k, n - 1] = end[k, n - 2] = 0
    return phones, one, two, start, end
