"""Stage `text`: sentences to be spoken, and the held-out ones.

    python -m kitchen.text WORK [COUNT]

Writes WORK/text.json: for each sentence the words, Kokoro's tokens in an American and a British reading, and the model
phones of each. Four sentences of five are orders of the grammar; the rest are words at random, so that every word and
every pair of phones is met. Held-out sentences (WORK/held-out.txt) never occur among them.
"""

import json
import pathlib
import random
import re
import sys

from rapidfuzz.distance import Levenshtein

from . import arpa, espeak, orders


def kokoro_tokens(text, voice, vocab):
    """The token ids of a sentence, with Kokoro's own small repairs of espeak-ng's output."""
    p = espeak.phonemes(text, voice)
    p = p.replace("ʲ", "j").replace("r", "ɹ").replace("x", "k").replace("ɬ", "l").replace("_", "")
    if voice == "en-us":
        p = re.sub(r"(?<=nˈaɪn)ti(?!ː)", "di", p)
    return [vocab[c] for c in p if c in vocab], p


def pronounce(words, said, lexicon):
    """For each word the dictionary pronunciation that brings the sentence closest to the phones that were said."""
    char = {p: chr(65 + i) for i, p in enumerate(arpa.PHONES)}
    target = "".join(char[p] for p in said)
    choice = ["".join(char[p] for p in lexicon[w][0]) for w in words]
    ways = [["".join(char[p] for p in v) for v in lexicon[w]] for w in words]
    for _ in range(2):
        for i, options in enumerate(ways):
            if len(options) > 1:
                before, after = "".join(choice[:i]), "".join(choice[i + 1 :])
                choice[i] = min(options, key=lambda o: Levenshtein.distance(before + o + after, target))
    back = {c: p for p, c in char.items()}
    return [[back[c] for c in w] for w in choice]


def main():
    work = pathlib.Path(sys.argv[1])
    count = int(sys.argv[2]) if len(sys.argv) > 2 else 20000
    lexicon = json.loads((work / "lexicon.json").read_text())
    vocab = json.loads((work / "kokoro" / "vocab.json").read_text())["vocab"]
    rng = random.Random(7)
    held = set()
    while len(held) < 400:
        held.add(orders.sample(rng))
    held = sorted(s for s in held if 1 < len(s.split()) < 13)
    (work / "held-out.txt").write_text("\n".join(held) + "\n")
    held = set(held)
    here = pathlib.Path(__file__).parent.parent
    food = [w for w in (here / "food-words.txt").read_text().split() if w in lexicon]
    every = sorted(w for w in lexicon if 2 < len(w) < 12)
    texts, seen = [], set(held)
    while len(texts) < count:
        r = rng.random()
        if r < 0.78:
            s = orders.sample(rng)
            if r < 0.12:
                s += " " + orders.sample(rng)
        elif r < 0.86:
            s = " ".join(orders.sample(rng, "number") for _ in range(rng.randint(1, 3)))
        else:
            s = " ".join(rng.choice(food if rng.random() < 0.3 else every) for _ in range(rng.randint(3, 7)))
        if s in seen and len(s.split()) > 2 or len(s.split()) > 16 or s in held:
            continue
        if len(s.split()) <= 2 and sum(s == t for t in texts[-800:]):
            continue
        seen.add(s)
        texts.append(s)
    out = []
    for s in texts:
        words = s.split()
        item = {"t": s}
        for accent, voice in (("us", "en-us"), ("gb", "en")):
            item[accent], ipa = kokoro_tokens(s, voice, vocab)
            item[accent + "p"] = [" ".join(p) for p in pronounce(words, arpa.from_ipa(ipa), lexicon)]
        out.append(item)
    (work / "text.json").write_text(json.dumps(out))
    print(len(out), "sentences,", len(held), "held out;", out[3], out[-1])


if __name__ == "__main__":
    main()
