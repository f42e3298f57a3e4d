"""Clips for the hearing bench: orders for each shipped formula, talk, and orders with the name in front.

    python make.py COMMIS KOKORO OUT [SHARD SHARDS]

COMMIS is the built program, KOKORO the folder that `kitchen.fetch` made (model.onnx, styles.npz, vocab.json). Every folder in OUT gets WAVs and
a `said.tsv`: file, tab, what was said (`-` in front: talk, no order), tab, voice. Stops and goes on. The voices are those that training leaves out:
six styles of Kokoro, flite's awb, and two of espeak-ng that are in no training set.
"""

import json
import pathlib
import random
import re
import subprocess
import sys

import numpy as np
import soundfile as sf

HERE = pathlib.Path(__file__).resolve().parent
ROOT = HERE.parent.parent
sys.path.insert(0, str(ROOT / "models" / "train"))

STYLES = ["af_nova", "bm_lewis", "am_eric", "bf_lily", "am_onyx", "af_river"]
ROBOTS = ["flite-awb", "espeak-en-gb-x-rp+f4", "espeak-en-us+m7"]
FORMULAS = {
    "loaf": ("seeded-tin-loaf", {"rye flour": "wholemeal flour", "rye": "wholemeal", "the butter": "the oil", "honey": "sesame"}),
    "shortbread": ("lemon-shortbread", {"rye flour": "rice flour", "rye": "rice flour", "water": "sugar", "loaves": "wedges", "first rise": "cooling", "the bread": "the bake"}),
    "soup": ("vegetable-soup", {"rye flour": "lentils", "rye": "lentils", "butter": "oil", "loaves": "bowls", "first rise": "vegetables", "bake": "soup", "the bread": "the soup"}),
}
EACH = 56


def examples():
    """What GRAMMAR.md says can be said, without what is only typed."""
    found = []
    for line in (ROOT / "GRAMMAR.md").read_text().splitlines():
        if line.startswith("- `") and " -> " in line:
            found += [s.strip("`") for s in line[2:].split(" -> ")[0].split("`, `")]
    return [s for s in found if re.fullmatch(r"[a-z' ]+", s)]


def orders(commis, formula, swaps):
    said = []
    for s in examples():
        for old, new in swaps.items():
            s = re.sub(rf"\b{old}\b", new, s)
        said.append(s)
    said = sorted(set(said))
    out = subprocess.run([commis, "understand", f"shared/formulas/{formula}.toml"], input="\n".join(said), capture_output=True, text=True, check=True, cwd=ROOT)
    return [s for s, line in zip(said, out.stdout.splitlines(), strict=True) if json.loads(line)["intent"]]


def plan(commis):
    """Folder, file, what was said, voice: in an order that is fair to all when it is cut short."""
    rows = []
    for name, (formula, swaps) in FORMULAS.items():
        rng = random.Random(name)
        some = orders(commis, formula, swaps)
        rng.shuffle(some)
        some = some[:EACH]
        for turn in range(2):
            for k, s in enumerate(some):
                rows.append((turn, k, name, s, STYLES[(k + turn * 3) % len(STYLES)]))
        for k, s in enumerate(some):
            rows.append((0, k, name, s, ROBOTS[k % len(ROBOTS)]))
    talk = (HERE / "talk.txt").read_text().splitlines()
    for turn in range(2):
        for k, s in enumerate(talk):
            rows.append((turn, k, "talk", "-" + s, STYLES[(k + turn * 3) % len(STYLES)]))
    for turn, voice in enumerate(ROBOTS):
        for k, s in enumerate(talk):
            rows.append((turn, k, "talk", "-" + s, voice))
    named = sorted(random.Random("named").sample(orders(commis, *FORMULAS["loaf"]), 36))
    for k, s in enumerate(named):
        for turn, voice in enumerate([STYLES[k % 6], STYLES[(k + 3) % 6], ROBOTS[0]]):
            rows.append((turn, k, "name", "commis " + s, voice))
    for k, s in enumerate(["stop", "be quiet", "quiet", "commis stop", "stop talking", "commis next", "commis how much salt", "repeat"]):
        for voice in STYLES + ROBOTS:
            rows.append((0, k, "stop", s, voice))
    rows.sort(key=lambda r: (r[0], r[1]))
    return [(folder, f"{voice}-{said.strip('-').replace(' ', '_')[:60]}.wav", said, voice) for _, _, folder, said, voice in rows]


def speak(row, out, net, styles, vocab):
    folder, file, said, voice = row
    path = out / folder / file
    if path.exists():
        return
    said = said.lstrip("-").replace("commis", "commy")
    if voice.startswith("flite"):
        subprocess.run(["flite", "-voice", voice[6:], "-t", said, "-o", str(path)], check=True)
    elif voice.startswith("espeak"):
        subprocess.run(["espeak-ng", "-v", voice[7:], "-s", "160", "-w", str(path), said], check=True)
    else:
        from kitchen import text, voices

        tokens, _ = text.kokoro_tokens(said, "en" if voice[0] == "b" else "en-us", vocab)
        y = voices.speak(net, tokens, styles[voice][len(tokens) - 1].astype(np.float32), random.Random(file).uniform(0.9, 1.15))
        sf.write(path, y, 16000)


def main():
    commis, kokoro, out = sys.argv[1], pathlib.Path(sys.argv[2]), pathlib.Path(sys.argv[3])
    shard, shards = (int(sys.argv[4]), int(sys.argv[5])) if len(sys.argv) > 5 else (0, 1)
    rows = plan(commis)
    if shard == 0:
        folders = {}
        for folder, file, said, voice in rows:
            folders.setdefault(folder, {})[file] = f"{file}\t{said}\t{voice}\n"
        for folder, lines in folders.items():
            (out / folder).mkdir(parents=True, exist_ok=True)
            (out / folder / "said.tsv").write_text("".join(lines.values()))
        print({folder: len(lines) for folder, lines in folders.items()}, flush=True)
    from kitchen import voices

    vocab = json.loads((kokoro / "vocab.json").read_text())["vocab"]
    styles = np.load(kokoro / "styles.npz")
    net = voices.session(kokoro / "model.onnx")
    for row in rows[shard::shards]:
        (out / row[0]).mkdir(parents=True, exist_ok=True)
        speak(row, out, net, styles, vocab)


if __name__ == "__main__":
    main()
