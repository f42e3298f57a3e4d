"""Stage `export`: the trained parameters as am/final.mdl, and the two configuration files.

    python -m kitchen.export BASE.mdl PAR.npz MODEL_DIR [BEFORE.mdl [SHARE]]

BASE.mdl gives the batch-norm components, which training leaves alone. With BEFORE.mdl, the network that training went on from, the mean of
both is exported, SHARE of it (one half) the new one: it hears better than either.
"""

import pathlib
import re
import sys

import numpy as np

from . import kaldi, model

MFCC = """--sample-frequency=16000
--use-energy=false
--num-mel-bins=40
--num-ceps=40
--low-freq=20
--high-freq=7600
--allow-downsample=true
"""
DECODER = """--min-active=200
--max-active=3000
--beam=13.0
--lattice-beam=4.0
--acoustic-scale=1.0
--frame-subsampling-factor=3
--endpoint.silence-phones=1
--endpoint.rule2.min-trailing-silence=0.5
--endpoint.rule3.min-trailing-silence=0.75
--endpoint.rule4.min-trailing-silence=1.0
"""


def network(head):
    """The nnet3 configuration."""
    lines = ["<Nnet3> ", "input-node name=input dim=40",
             "component-node name=lda component=lda input=Append(Offset(input, -1), input, Offset(input, 1))"]
    node = lambda name, source: lines.append(f"component-node name={name} component={name} input={source}")
    node("tdnn1.affine", "lda")
    node("tdnn1.relu", "tdnn1.affine")
    node("tdnn1.batchnorm", "tdnn1.relu")
    before = "tdnn1.batchnorm"
    for k in range(2, 16):
        n = f"tdnnf{k}"
        node(f"{n}.linear", before)
        node(f"{n}.affine", f"{n}.linear")
        node(f"{n}.relu", f"{n}.affine")
        node(f"{n}.batchnorm", f"{n}.relu")
        node(f"{n}.noop", f"Sum(Scale(0.66, {before}), {n}.batchnorm)")
        before = f"{n}.noop"
    node("pre.affine", before)
    node("pre.relu", "pre.affine")
    node("output.affine", "pre.relu")
    lines += ["output-node name=output input=output.affine objective=linear", "", ""]
    return "\n".join(lines).encode()


def write(base, par, out):
    """Write `out`/am/final.mdl and `out`/conf."""
    old = kaldi.load(base)
    parts = [kaldi.affine("lda", par["w0"], par["c0"])]
    first = kaldi.replaced(old["tdnn1.affine"][1], b"<LinearParams>", par["w1"])
    parts.append(kaldi.replaced(first, b"<BiasParams>", par["c1"]))
    parts += [old["tdnn1.relu"][1], old["tdnn1.batchnorm"][1]]
    for k in range(2, 16):
        name = f"tdnnf{k}"
        parts.append(kaldi.replaced(old[f"{name}.linear"][1], b"<LinearParams>", par[f"l{k}"]))
        a = kaldi.replaced(old[f"{name}.affine"][1], b"<LinearParams>", par[f"a{k}"])
        parts.append(kaldi.replaced(a, b"<BiasParams>", par[f"b{k}"]))
        parts += [old[f"{name}.{x}"][1] for x in ("relu", "batchnorm", "noop")]
    head = par["p1"].shape[0]
    parts += [kaldi.affine("pre.affine", par["p1"], par["q1"]), kaldi.relu("pre.relu", head), kaldi.affine("output.affine", par["p2"], par["q2"])]
    tuples = [(1, 0, 1)] + [(p, 2 + 2 * ((p - 2) // 4), 3 + 2 * ((p - 2) // 4)) for p in range(2, 158)]
    data = (b"\0B" + kaldi.transition_model(157, tuples) + network(head) + b"<NumComponents> " + kaldi.i32(len(parts)) + b"".join(parts)
            + b"</Nnet3> <LeftContext> " + kaldi.i32(model.CONTEXT) + b"<RightContext> " + kaldi.i32(model.CONTEXT) + b"<Priors> " + kaldi.vector([]))
    for folder in ("am", "conf", "graph/phones"):
        (out / folder).mkdir(parents=True, exist_ok=True)
    (out / "am" / "final.mdl").write_bytes(data)
    (out / "conf" / "mfcc.conf").write_text(MFCC)
    (out / "conf" / "model.conf").write_text(DECODER)
    print(f"final.mdl {len(data)} bytes")


if __name__ == "__main__":
    z = np.load(sys.argv[2])
    par = {k: z[k] for k in z.files}
    if len(sys.argv) > 4:
        before, _ = model.initial(sys.argv[4])
        share = float(sys.argv[5]) if len(sys.argv) > 5 else 0.5
        par = {k: (share * v + (1 - share) * before[k]).astype(np.float32) for k, v in par.items()}
    write(sys.argv[1], par, pathlib.Path(sys.argv[3]))
