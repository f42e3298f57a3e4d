"""Trains the reader.

    python3 models/reader/train.py INPUTS START OUT [--fold K] [--teachers 2]

INPUTS: what examples/reader.rs made of the corpus, with the corpus line in it. START: a folder with the wordpieces and the weights of
all-MiniLM-L6-v2 (Apache 2.0, see README.md), from which the small network's embeddings start. OUT: reader.bin; or with --fold K, of four,
fold-K.bin, that never saw the writers in fold-K.writers. --teachers N: all of MiniLM is trained first, N times from
different seeds, and the small network learns from them as well. PyTorch; a few minutes on a GPU.
"""
import argparse
import collections
import json
import pathlib
import random
import struct

import numpy as np
import torch
import torch.nn as nn
import torch.nn.functional as F

import labels

WIDTH, HEADS, LAYERS, INNER, LONGEST = 192, 6, 3, 576, 72
# The writers of `held`: what they wrote is for measuring alone.
KEPT_AWAY = {f"w{n}" for n in range(46, 61)}
DEV = "cuda" if torch.cuda.is_available() else "cpu"


def pieces(word, vocab):
    """Wordpieces, the longest first."""
    out = []
    for part in word.split(" "):
        at, mine = 0, []
        while at < len(part):
            end = len(part)
            while end > at and (("##" if at else "") + part[at:end]) not in vocab:
                end -= 1
            if end == at:
                mine = [1]
                break
            mine.append(vocab[("##" if at else "") + part[at:end]])
            at = end
        out += mine
    return out or [1]


class Data:
    """Rows with their words, tags, facts and labels."""

    def __init__(self, rows, vocab, names=None):
        self.vocab, self.rows = vocab, rows
        for r in rows:
            r["frame"] = labels.frame(r["meaning"])
            r["slots"], r["whole"] = labels.align(r["meaning"], r["input"]["words"], r["input"]["found"])
        if names is None:
            frames = collections.Counter(r["frame"] for r in rows)
            names = {"frames": sorted(f for f, n in frames.items() if n >= 3),
                     "slots": [None] + sorted({s for r in rows for s in r["slots"] if s}),
                     "tags": sorted({t for r in rows for ts in r["input"]["tags"] for t in ts}),
                     "facts": sorted({f for r in rows for f in r["input"]["facts"]})}
        self.names = names
        self.ids = {k: {n: i for i, n in enumerate(v)} for k, v in names.items()}
        self.cache = {}
        spoken = lambda kind: sorted({" ".join(r["input"]["words"][f["from"]:f["to"]]) for r in rows for f in r["input"]["found"] if f["kind"] == kind})
        self.spoken = {"own": spoken("own"), "number": spoken("number")}
        self.talk_facts = [r["input"]["facts"] for r in rows]

    def pieces(self, word):
        if word not in self.cache:
            self.cache[word] = pieces(word, self.vocab)
        return self.cache[word]

    def encode(self, r, rng=None):
        words, tags = list(r["input"]["words"]), r["input"]["tags"]
        facts = r["input"]["facts"]
        slots = r["slots"]
        if rng:
            words = self.vary(r, words, rng)
            if r["frame"] == "talk" and rng.random() < 0.3:
                facts = rng.choice(self.talk_facts)
            facts = [f for f in facts if rng.random() > 0.05]
        ids, word_tags, first = [], [], []
        for w, t in zip(words, tags):
            if w is None:
                first.append(0)
                continue
            first.append(len(ids) + 1)
            t = [self.ids["tags"][x] for x in t if x in self.ids["tags"]]
            for p in self.pieces(w):
                if rng and rng.random() < 0.04:
                    p = 1
                ids.append(p)
                word_tags.append(t)
        return (ids[:LONGEST - 1], word_tags[:LONGEST - 1], [min(f, LONGEST - 1) for f in first],
                [self.ids["facts"][f] for f in facts if f in self.ids["facts"]],
                self.ids["frames"].get(r["frame"], -100),
                [self.ids["slots"].get(s, 0) if w is not None and r["whole"] else -100 for s, w in zip(slots, words)])

    def vary(self, r, words, rng):
        """Other ingredients and numbers in the same sentence; a word lost now and then."""
        for f in r["input"]["found"]:
            a, b = f["from"], f["to"]
            if f["kind"] in ("own", "number") and rng.random() < 0.35 and all(w is not None for w in words[a:b]) and (f["kind"] == "own" or r["frame"] != "talk"):
                words[a:b] = [rng.choice(self.spoken[f["kind"]])] + [None] * (b - a - 1)
        return words


def batch(data, rows, rng=None):
    enc = [data.encode(r, rng) for r in rows]
    n = max(len(e[0]) for e in enc) + 1
    w = max(1, max(len(e[2]) for e in enc))
    ids = np.zeros((len(enc), n), np.int64)
    T, K = len(data.names["tags"]), len(data.names["facts"])
    tags = np.zeros((len(enc), n, T), np.float32)
    facts = np.zeros((len(enc), K), np.float32)
    first = np.zeros((len(enc), w), np.int64)
    slots = np.full((len(enc), w), -100, np.int64)
    mask = np.zeros((len(enc), n), bool)
    frame = np.zeros(len(enc), np.int64)
    for k, (i, t, f, fa, fr, sl) in enumerate(enc):
        ids[k, 1:len(i) + 1] = i
        ids[k, 0] = 2
        mask[k, :len(i) + 1] = True
        for p, ts in enumerate(t):
            tags[k, p + 1, ts] = 1
        facts[k, fa] = 1
        first[k, :len(f)] = f
        slots[k, :len(sl)] = sl
        frame[k] = fr
    return [torch.from_numpy(x).to(DEV) for x in (ids, tags, facts, first, mask, frame, slots)]


class Layer(nn.Module):
    def __init__(self, d, heads, inner):
        super().__init__()
        self.heads = heads
        self.qkv, self.out = nn.Linear(d, 3 * d), nn.Linear(d, d)
        self.up, self.down = nn.Linear(d, inner), nn.Linear(inner, d)
        self.n1, self.n2 = nn.LayerNorm(d), nn.LayerNorm(d)
        self.drop = nn.Dropout(0.15)

    def forward(self, x, mask):
        b, n, d = x.shape
        q, k, v = self.qkv(self.n1(x)).view(b, n, 3, self.heads, d // self.heads).permute(2, 0, 3, 1, 4)
        a = (q @ k.transpose(-1, -2)) / (d // self.heads) ** 0.5
        a = a.masked_fill(~mask[:, None, None, :], -1e9).softmax(-1)
        x = x + self.drop(self.out((a @ v).transpose(1, 2).reshape(b, n, d)))
        return x + self.drop(self.down(F.relu(self.up(self.n2(x)))))


class Reader(nn.Module):
    def __init__(self, start, names):
        super().__init__()
        self.emb = nn.Embedding.from_pretrained(start.clone(), freeze=False)
        self.tags = nn.Parameter(torch.randn(len(names["tags"]), WIDTH) * 0.05)
        self.facts = nn.Parameter(torch.randn(len(names["facts"]), WIDTH) * 0.05)
        self.place = nn.Parameter(torch.randn(LONGEST, WIDTH) * 0.02)
        self.layers = nn.ModuleList(Layer(WIDTH, HEADS, INNER) for _ in range(LAYERS))
        self.norm = nn.LayerNorm(WIDTH)
        self.frame = nn.Linear(3 * WIDTH, len(names["frames"]))
        self.slot = nn.Linear(2 * WIDTH, len(names["slots"]))
        self.drop = nn.Dropout(0.2)

    def forward(self, ids, tags, facts, first, mask):
        x = self.emb(ids) + tags @ self.tags + self.place[:ids.shape[1]]
        x = torch.cat([x[:, :1] + (facts @ self.facts)[:, None], x[:, 1:]], 1)
        x = self.drop(x)
        for layer in self.layers:
            x = layer(x, mask)
        x = self.norm(x)
        return self.heads(x, first, mask)

    def heads(self, x, first, mask):
        m = mask[..., None].float()
        mean = (x * m).sum(1) / m.sum(1)
        top = x.masked_fill(~mask[..., None], -1e9).amax(1)
        frame = self.frame(self.drop(torch.cat([x[:, 0], mean, top], 1)))
        at = x.gather(1, first[..., None].expand(-1, -1, x.shape[-1]))
        slot = self.slot(self.drop(torch.cat([at, x[:, :1].expand_as(at)], 2)))
        return frame, slot


class Teacher(nn.Module):
    """All of MiniLM, with the same facts, tags and heads."""

    def __init__(self, folder, names):
        super().__init__()
        from transformers import BertConfig, BertModel
        self.bert = BertModel(BertConfig(hidden_size=384, num_hidden_layers=6, num_attention_heads=12, intermediate_size=1536), add_pooling_layer=False)
        self.bert.load_state_dict(weights(folder), strict=False)
        d = 384
        self.tags = nn.Parameter(torch.randn(len(names["tags"]), d) * 0.02)
        self.facts = nn.Parameter(torch.randn(len(names["facts"]), d) * 0.02)
        self.frame, self.slot = nn.Linear(3 * d, len(names["frames"])), nn.Linear(2 * d, len(names["slots"]))
        self.drop = nn.Dropout(0.1)
    heads = Reader.heads

    def forward(self, ids, tags, facts, first, mask):
        x = self.bert.embeddings.word_embeddings(FULL[ids]) + tags @ self.tags
        x = torch.cat([x[:, :1] + (facts @ self.facts)[:, None], x[:, 1:]], 1)
        x = self.bert(inputs_embeds=x, attention_mask=mask.long()).last_hidden_state
        return self.heads(x, first, mask)


def weights(folder):
    z = np.load(folder / "minilm.npz")
    out = {k: torch.from_numpy(z[k]) for k in z.files if "|" not in k}
    for k in z.files:
        if k.endswith("|q"):
            out[k[:-2]] = torch.from_numpy(z[k].astype(np.float32) * z[k[:-2] + "|s"])
    return out


FULL = None


def start(folder):
    """The wordpieces that are kept, and for each its first embedding: what MiniLM makes of it alone, beside its own row."""
    global FULL
    full = json.loads((folder / "vocab.json").read_text())
    kept = [w for w in full if w.removeprefix("##").isascii() and (w.removeprefix("##").isalpha()) and not w.startswith("[")]
    names = ["[PAD]", "[UNK]", "[CLS]"] + kept
    FULL = torch.tensor([full[w] for w in names]).to(DEV)
    from transformers import BertConfig, BertModel
    bert = BertModel(BertConfig(hidden_size=384, num_hidden_layers=6, num_attention_heads=12, intermediate_size=1536), add_pooling_layer=False)
    bert.load_state_dict(weights(folder), strict=False)
    bert = bert.to(DEV).eval()
    alone = []
    with torch.no_grad():
        for k in range(0, len(names), 2048):
            ids = FULL[k:k + 2048][:, None]
            ids = torch.cat([torch.full_like(ids, full["[CLS]"]), ids, torch.full_like(ids, full["[SEP]"])], 1)
            alone.append(F.normalize(bert(input_ids=ids).last_hidden_state.mean(1), dim=1))
        alone = torch.cat(alone)
        rows = F.normalize(bert.embeddings.word_embeddings.weight[FULL], dim=1)

        def pca(x, n):
            x = x - x.mean(0)
            _, _, v = torch.linalg.svd(x, full_matrices=False)
            x = x @ v[:n].T
            return x / x.std()
        both = torch.cat([pca(alone, WIDTH // 2), pca(rows, WIDTH // 2)], 1) * 0.1
    return {w: i for i, w in enumerate(names)}, both.float()


def train(make, data, rows, epochs, rate, size, seed, teachers=()):
    torch.manual_seed(seed)
    rng = random.Random(seed)
    model = make().to(DEV)
    opt = torch.optim.AdamW(model.parameters(), lr=rate, weight_decay=0.01)
    steps = epochs * ((len(rows) + size - 1) // size)
    plan = torch.optim.lr_scheduler.OneCycleLR(opt, rate, total_steps=steps, pct_start=0.1)
    model.train()
    for epoch in range(epochs):
        order = rows[:]
        rng.shuffle(order)
        for k in range(0, len(order), size):
            ids, tags, facts, first, mask, frame, slots = batch(data, order[k:k + size], rng)
            f, s = model(ids, tags, facts, first, mask)
            loss = F.cross_entropy(f, frame, label_smoothing=0.05) + F.cross_entropy(s.flatten(0, 1), slots.flatten())
            if teachers:
                with torch.no_grad():
                    tf, ts = 0, 0
                    for t in teachers:
                        a, b = t(ids, tags, facts, first, mask)
                        tf, ts = tf + a / len(teachers), ts + b / len(teachers)
                real = (slots != -100)
                loss = 0.4 * loss + 2.0 * F.kl_div(F.log_softmax(f / 2, 1), F.softmax(tf / 2, 1), reduction="batchmean") \
                    + F.kl_div(F.log_softmax(s, 2)[real], F.softmax(ts, 2)[real], reduction="batchmean")
            opt.zero_grad()
            loss.backward()
            nn.utils.clip_grad_norm_(model.parameters(), 1.0)
            opt.step()
            plan.step()
    return model.eval()


def predict(model, data, rows):
    out = []
    with torch.no_grad():
        for k in range(0, len(rows), 512):
            some = rows[k:k + 512]
            ids, tags, facts, first, mask, frame, slots = batch(data, some)
            f, s = model(ids, tags, facts, first, mask)
            f, s = f.softmax(1).cpu().numpy(), s.argmax(2).cpu().numpy()
            for r, p, sl in zip(some, f, s):
                best = np.argsort(-p)[:3]
                out.append({"id": r["id"], "frames": [[data.names["frames"][b], round(float(p[b]), 5)] for b in best],
                            "talk": round(float(p[data.ids["frames"]["talk"]]), 5),
                            "slots": [data.names["slots"][x] for x in sl[:len(r["slots"])]]})
    return out


def told(name, rows, out):
    by = {r["id"]: r for r in rows}
    f = sum(by[o["id"]]["frame"] == o["frames"][0][0] for o in out)
    inside = [o for o in out if by[o["id"]]["frame"] != "talk"]
    fi = sum(by[o["id"]]["frame"] == o["frames"][0][0] for o in inside)
    s = sum(by[o["id"]]["frame"] == o["frames"][0][0] and by[o["id"]]["slots"] == o["slots"] for o in inside if by[o["id"]]["whole"])
    n = sum(by[o["id"]]["whole"] for o in inside)
    print(f"{name}: frame {f / len(out):.4f}, in scope {fi / len(inside):.4f}, with slots {s / max(1, n):.4f} of {n}; {len(out)} lines", flush=True)


def export(model, data, vocab, path):
    """reader.bin: a header in JSON, then each matrix as one scale a row and whole numbers of eight bits."""
    state = {k: v.detach().cpu().float().numpy() for k, v in model.state_dict().items()}
    header = {"width": WIDTH, "heads": HEADS, "layers": LAYERS, "inner": INNER, "longest": LONGEST,
              "pieces": list(vocab), **{k: [x or "" for x in v] for k, v in data.names.items()}, "tensors": []}
    body = b""
    for k, v in state.items():
        m = v.reshape(1, -1) if v.ndim == 1 else v
        header["tensors"].append([k, *m.shape])
        if v.ndim == 1:
            body += m.astype("<f4").tobytes()
        else:
            scale = np.maximum(np.abs(m).max(1), 1e-9) / 127
            body += scale.astype("<f4").tobytes() + np.clip(np.round(m / scale[:, None]), -127, 127).astype(np.int8).tobytes()
    head = json.dumps(header, separators=(",", ":")).encode()
    path.write_bytes(b"READER01" + struct.pack("<I", len(head)) + head + body)


def main():
    a = argparse.ArgumentParser()
    a.add_argument("inputs", type=pathlib.Path)
    a.add_argument("start", type=pathlib.Path)
    a.add_argument("out", type=pathlib.Path)
    a.add_argument("--folds", type=int, default=4)
    a.add_argument("--fold", type=int, help="leave out this part of the writers, and read them")
    a.add_argument("--epochs", type=int, default=40)
    a.add_argument("--teachers", type=int, default=0)
    a = a.parse_args()
    rows = [json.loads(l) for l in a.inputs.open()]
    away = sorted({r["writer"] for r in rows} & KEPT_AWAY)
    if away:
        raise SystemExit(f"kept away, and not to be learned from: {', '.join(away)}")
    vocab, first = start(a.start)
    data = Data(rows, vocab)
    print(len(rows), "lines,", {k: len(v) for k, v in data.names.items()}, "slots found in", round(sum(r["whole"] for r in rows) / len(rows), 3), flush=True)
    small = lambda: Reader(first, data.names)
    big = lambda: Teacher(a.start, data.names)

    def learn(rows, name, test=None):
        teachers = [train(big, data, rows, 8, 2e-4, 64, 5 + k) for k in range(a.teachers)]
        if test and teachers:
            told(f"{name} teacher", test, predict(teachers[0], data, test))
        return train(small, data, rows, a.epochs, 1.5e-3, 128, 17, teachers)

    a.out.mkdir(exist_ok=True, parents=True)
    if a.fold is not None:
        writers = sorted({r["writer"] for r in rows})
        random.Random(3).shuffle(writers)
        left_out = set(writers[a.fold::a.folds])
        test = [r for r in rows if r["writer"] in left_out]
        model = learn([r for r in rows if r["writer"] not in left_out], f"fold {a.fold}", test)
        told(f"fold {a.fold}", test, predict(model, data, test))
        export(model, data, vocab, a.out / f"fold-{a.fold}.bin")
        (a.out / f"fold-{a.fold}.writers").write_text("\n".join(sorted(left_out)) + "\n")
    else:
        export(learn(rows, "all"), data, vocab, a.out / "reader.bin")


if __name__ == "__main__":
    main()
