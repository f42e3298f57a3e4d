"""Stage `graph`: the decoding graph HCLr.fst, the default Gr.fst and the tables beside them, with OpenFst's own tools.

    python -m kitchen.graph LEXICON.json MODEL_DIR

A trie of pronunciations over transition-ids (forward, then self-loop on the state it enters), a word's label where it is told apart from all
others, common endings shared, silence between words, and a phone loop that spells `[unk]`. Needs Debian's `libfst-tools` (version 1.7 or later).
"""

import collections
import json
import math
import os
import pathlib
import subprocess
import sys
import tempfile

from . import arpa

SILENCE, UNK_ENTER, UNK_PHONE = 0.69, 2.0, 3.0
POSITIONS = {"B": "begin", "E": "end", "I": "internal", "S": "singleton"}
IDENT = {"SIL": 1, **{f"{p}_{s}": 2 + 4 * i + k for i, p in enumerate(arpa.PHONES[1:]) for k, s in enumerate("BEIS")}}


def forward(phone):
    return 2 * IDENT[phone]


def loop(phone):
    return 2 * IDENT[phone] - 1


def trie(words, lexicon, ident):
    """Arcs (from, to, input, output, cost) of the graph; state 0 starts, state 1 ends."""
    arcs = [(0, 1, 0, 0, SILENCE), (0, 2, forward("SIL"), 0, SILENCE), (2, 2, loop("SIL"), 0, 0), (2, 1, 0, 0, 0)]
    states, ends, nodes, tails = 3, {}, {}, {}

    def end(phone):
        nonlocal states
        if phone not in ends:
            ends[phone] = states
            states += 1
            s = ends[phone]
            arcs.extend([(s, s, loop(phone), 0, 0), (s, 1, 0, 0, SILENCE), (s, 2, forward("SIL"), 0, SILENCE)])
        return ends[phone]

    prefixes = collections.Counter(q[:k] for p in {(w, tuple(p)) for w in words for p in lexicon[w]} for q in [p[1]] for k in range(1, len(q) + 1))

    def rest(said, first):
        """The state that speaks the last phones of a word; words that end alike share it."""
        nonlocal states
        if len(said) == 1 and not first:
            return end(said[0] + "_E")
        if (said, first) not in tails:
            s = tails[said, first] = states
            states += 1
            phone = said[0] + ("_B" if first else "_I")
            follow = said[1] + ("_E" if len(said) == 2 else "_I")
            arcs.extend([(s, s, loop(phone), 0, 0), (s, rest(said[1:], False), forward(follow), 0, 0)])
        return tails[said, first]

    for w in words:
        for said in {tuple(p) for p in lexicon[w]}:
            if len(said) == 1:
                phone = said[0] + "_S"
                arcs.append((1, end(phone), forward(phone), ident[w], 0))
                continue
            at = 1
            for k in range(len(said)):
                phone = said[k] + ("_E" if k == len(said) - 1 else "_I" if k else "_B")
                if k == len(said) - 1 or prefixes[said[: k + 1]] == 1:  # from here on it can be no other word
                    arcs.append((at, rest(said[k:], k == 0), forward(phone), ident[w], 0))
                    break
                if (at, phone) not in nodes:
                    nodes[at, phone] = states
                    arcs += [(at, states, forward(phone), 0, 0), (states, states, loop(phone), 0, 0)]
                    states += 1
                at = nodes[at, phone]
    hub = states
    states += 1
    for p in arpa.PHONES[1:]:
        for position, source, label, cost in (("_B", 1, ident["[unk]"], UNK_ENTER + UNK_PHONE), ("_I", hub, 0, UNK_PHONE)):
            phone, s = p + position, states
            states += 1
            arcs += [(source, s, forward(phone), label, cost), (s, s, loop(phone), 0, 0), (s, hub, 0, 0, 0)]
        arcs.append((hub, end(p + "_E"), forward(p + "_E"), 0, UNK_PHONE))
    return sorted(arcs, key=lambda a: a[0])


def environment(folder):
    """OpenFst looks for its look-ahead type as a library of that name."""
    for d in ("/usr/lib/x86_64-linux-gnu", "/usr/lib/aarch64-linux-gnu"):
        found = sorted(pathlib.Path(d).glob("libfstlookahead.so*")) + sorted((pathlib.Path(d) / "fst").glob("*lookahead*.so"))
        if found:
            for name in ("olabel_lookahead-fst.so", "const-fst.so"):
                link = pathlib.Path(folder) / name
                if not link.exists() and name.startswith("olabel"):
                    link.symlink_to(found[0])
            return dict(os.environ, LD_LIBRARY_PATH=f"{folder}:{d}:{d}/fst")
    raise SystemExit("expected libfstlookahead (package libfst-tools), found none")


def build(lexicon, out):
    """Write `out`/graph for all words of the lexicon."""
    g = out / "graph"
    (g / "phones").mkdir(parents=True, exist_ok=True)
    words = sorted(lexicon) + ["[unk]"]
    ident = {w: i + 1 for i, w in enumerate(words)}
    names = {i: p for p, i in IDENT.items()}
    (g / "phones.txt").write_text("<eps> 0\n" + "".join(f"{names[i]} {i}\n" for i in sorted(names)))
    (g / "phones" / "word_boundary.int").write_text(
        "1 nonword\n" + "".join(f"{i} {POSITIONS[names[i][-1]]}\n" for i in sorted(names) if i > 1))
    (g / "disambig_tid.int").write_text(f"{2 * 157 + 1}\n")
    with tempfile.TemporaryDirectory() as tmp:
        env = environment(tmp)
        run = lambda command: subprocess.run(command, shell=True, check=True, env=env, executable="/bin/bash")
        arcs = trie(words[:-1], lexicon, ident)
        with open(f"{tmp}/hcl.txt", "w") as f:
            f.writelines("%d %d %d %d %g\n" % a for a in arcs)
            f.write("1 0\n")
        run(f"set -o pipefail; fstcompile {tmp}/hcl.txt | fstarcsort --sort_type=olabel > {tmp}/HCL.fst")
        run(f"fstconvert --fst_type=olabel_lookahead --save_relabel_opairs={tmp}/relabel {tmp}/HCL.fst {g}/HCLr.fst")
        new = dict(tuple(map(int, x.split())) for x in open(f"{tmp}/relabel"))
        table = sorted((new[ident[w]], w) for w in words)
        (g / "words.txt").write_text("<eps> 0\n" + "".join(f"{w} {i}\n" for i, w in table))
        cost = math.log(len(words))
        grammar([f"0 0 {i} {i} {cost:.3f}" for i, w in table if w != "[unk]"] + ["0 0"], out, g / "Gr.fst", env)
    print(len(words), "words,", len(arcs), "arcs,", (g / "HCLr.fst").stat().st_size, "bytes HCLr")


def grammar(lines, out, path, env=None):
    """Compile lines of OpenFst text into a Gr.fst for the model in `out`."""
    with tempfile.TemporaryDirectory() as tmp:
        env = env or environment(tmp)
        (pathlib.Path(tmp) / "g.txt").write_text("\n".join(lines) + "\n")
        t = out / "graph" / "words.txt"
        subprocess.run(f"set -o pipefail; fstcompile {tmp}/g.txt | fstrmepsilon | fstarcsort --sort_type=ilabel | "
                       f"fstsymbols --isymbols={t} --osymbols={t} - | fstconvert --fst_type=const - {path}",
                       shell=True, check=True, env=env, executable="/bin/bash")


if __name__ == "__main__":
    build(json.loads(pathlib.Path(sys.argv[1]).read_text()), pathlib.Path(sys.argv[2]))
