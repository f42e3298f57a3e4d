"""Kaldi's binary nnet3 files: read the parameters of the small Vosk architecture, write a model of ours."""

import re
import struct

import numpy as np


def load(path):
    """Component name -> (type, bytes)."""
    b = open(path, "rb").read()
    heads = [(m.start(), m.group(1).decode(), m.group(2).decode()) for m in re.finditer(rb"<ComponentName> (\S+) <(\w+)>", b)]
    ends = [h[0] for h in heads[1:]] + [b.find(b"</Nnet3>")]
    return {name: (kind, b[p:e]) for (p, name, kind), e in zip(heads, ends)}


def _after(b, tag):
    p = b.find(tag + b" ")
    if p < 0:
        raise ValueError(f"expected {tag.decode()} in component")
    return p + len(tag) + 1


def _matrix(b, tag):
    p = _after(b, tag)
    if b[p : p + 3] != b"FM ":
        raise ValueError("expected a float matrix")
    rows, cols = struct.unpack("<i", b[p + 4 : p + 8])[0], struct.unpack("<i", b[p + 9 : p + 13])[0]
    return np.frombuffer(b[p + 13 : p + 13 + 4 * rows * cols], "<f4").reshape(rows, cols).copy()


def _vector(b, tag):
    p = _after(b, tag)
    if b[p : p + 3] != b"FV ":
        raise ValueError("expected a float vector")
    n = struct.unpack("<i", b[p + 4 : p + 8])[0]
    return np.frombuffer(b[p + 8 : p + 8 + 4 * n], "<f4").copy()


def _float(b, tag):
    p = _after(b, tag)
    return struct.unpack("<f", b[p + 1 : p + 5])[0] if b[p] == 4 else struct.unpack("<d", b[p + 1 : p + 9])[0]


def params(kind, b):
    """Parameters of one component, as arrays."""
    if kind.endswith("AffineComponent") or kind == "TdnnComponent":
        return dict(W=_matrix(b, b"<LinearParams>"), b=_vector(b, b"<BiasParams>"))
    if kind == "LinearComponent":
        return dict(W=_matrix(b, b"<Params>"))
    if kind == "BatchNormComponent":
        mean, var = _vector(b, b"<StatsMean>"), _vector(b, b"<StatsVar>")
        scale = _float(b, b"<TargetRms>") / np.sqrt(var + _float(b, b"<Epsilon>"))
        return dict(s=scale, o=-mean * scale)
    return {}


def replaced(chunk, tag, array):
    """The component with a matrix or vector overwritten, also by one of another size."""
    p = _after(chunk, tag)
    if chunk[p : p + 3] == b"FM ":
        size = struct.unpack("<i", chunk[p + 4 : p + 8])[0] * struct.unpack("<i", chunk[p + 9 : p + 13])[0]
        return chunk[:p] + matrix(array) + chunk[p + 13 + 4 * size :]
    size = struct.unpack("<i", chunk[p + 4 : p + 8])[0]
    return chunk[:p] + vector(array) + chunk[p + 8 + 4 * size :]


def i32(x):
    return b"\x04" + struct.pack("<i", x)


def f32(x):
    return b"\x04" + struct.pack("<f", x)


def f64(x):
    return b"\x08" + struct.pack("<d", x)


def matrix(m):
    m = np.asarray(m, "<f4")
    return b"FM " + i32(m.shape[0]) + i32(m.shape[1]) + m.tobytes()


def vector(v):
    v = np.asarray(v, "<f4")
    return b"FV " + i32(len(v)) + v.tobytes()


def integers(v):
    return b"\x04" + struct.pack("<i", len(v)) + struct.pack(f"<{len(v)}i", *v)


def affine(name, weight, bias):
    return (b"<ComponentName> " + name.encode() + b" <FixedAffineComponent> <LinearParams> " + matrix(weight) + b"<BiasParams> "
            + vector(bias) + b"</FixedAffineComponent> ")


def relu(name, dim):
    return (b"<ComponentName> " + name.encode() + b" <RectifiedLinearComponent> <Dim> " + i32(dim) + b"<ValueAvg> " + vector([])
            + b"<DerivAvg> " + vector([]) + b"<Count> " + f64(0) + b"<OderivRms> " + vector([]) + b"<OderivCount> " + f64(0)
            + b"<NumDimsSelfRepaired> " + f64(0) + b"<NumDimsProcessed> " + f64(0) + b"</RectifiedLinearComponent> ")


def transition_model(phones, tuples):
    """Chain topology: one emitting state, forward then self-loop. `tuples`: sorted (phone, forward pdf, self-loop pdf)."""
    o = b"<TransitionModel> <Topology> " + integers(list(range(1, phones + 1))) + integers([-1] + [0] * phones)
    o += i32(-1) + i32(1) + i32(2) + i32(0) + i32(1) + i32(2) + i32(0) + f32(0.5) + i32(1) + f32(0.5) + i32(-1) + i32(-1) + i32(0)
    o += b"</Topology> <Tuples> " + i32(len(tuples))
    for phone, forward, loop in tuples:
        o += i32(phone) + i32(0) + i32(forward) + i32(loop)
    return o + b"</Tuples> <LogProbs> " + vector([0.0] + [np.log(0.5)] * (2 * len(tuples))) + b"</LogProbs> </TransitionModel> "
