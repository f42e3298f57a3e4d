"""Stage `text`: sentences to be spoken, and the held-out ones.

    python -m kitchen.text WORK [COUNT] [CLIPS]

Writes WORK/text.json: for each sentence the words, Kokoro's tokens in an American and a British reading, and the model
phones of each. Half are sentences of the program's own network (WORK/phrases.txt, made by `cargo run --example phrases`), short ones above
all, or its examples; the rest orders of `kitchen.orders`, rows of numbers, everyday talk, and words at random, so that every word and
every pair of phones is met. Held-out sentences (WORK/held-out.json and .txt) never occur among them, nor do those of three words and more
that the hearing bench is made of (the folder CLIPS).
"""

import collections
import json
import pathlib
import random
import re
import sys

import wordfreq
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


NAMES = ["commis", "commis", "commis", "chef", "baker", "kitchen", "computer", "okay commis", "hey chef"]


def sentence(rng, source, words, common):
    """One sentence by chance."""
    r = rng.random()
    if r < 0.45:
        s = rng.choice(source["phrases" if r < 0.24 else "short" if r < 0.38 else "examples"])
        return s if rng.random() < 0.8 else rng.choice(NAMES) + " " + s
    if r < 0.65:
        s = orders.sample(rng)
        return s if rng.random() < 0.85 else rng.choice(NAMES) + " " + s
    if r < 0.73:
        return " ".join(orders.sample(rng, rng.choice(["number", "number", "span", "clock"])) for _ in range(rng.randint(1, 3)))
    if r < 0.84:
        return rng.choice(source["talk"])
    if r < 0.91:
        return " ".join(rng.choice(common) for _ in range(rng.randint(4, 9)))
    return " ".join(rng.choice(words) for _ in range(rng.randint(2, 6)))


def sources(work, clips, lexicon):
    """Sentences of the program's network, its short ones, its examples, and talk; and what must not be among them."""
    top = pathlib.Path(__file__).resolve().parent.parent.parent.parent
    said = {s for p in pathlib.Path(clips).glob("*/said.tsv") for s in (x.split("\t")[1].strip() for x in open(p))} if clips else set()
    known = lambda lines: [s for s in lines if 0 < len(s.split()) < 14 and all(w in lexicon for w in s.split())]
    phrases = known((work / "phrases.txt").read_text().splitlines())
    examples = [s for x in (top / "GRAMMAR.md").read_text().splitlines() if x.startswith("- `") and " -> " in x
                for s in re.findall(r"`([a-z' ]+)`", x.split(" -> ")[0])]
    talk = known((top / "src" / "hear" / "talk.txt").read_text().splitlines())
    if (work / "lines.txt").exists():
        talk += known((work / "lines.txt").read_text().splitlines())
    short = [s for s in phrases if len(s.split()) < 4]
    return {"phrases": phrases, "short": short, "examples": known(examples), "talk": talk}, {s for s in said if len(s.split()) > 2}


def main():
    work = pathlib.Path(sys.argv[1])
    count = int(sys.argv[2]) if len(sys.argv) > 2 else 20000
    lexicon = json.loads((work / "lexicon.json").read_text())
    vocab = json.loads((work / "kokoro" / "vocab.json").read_text())["vocab"]
    rng = random.Random(7)
    source, held = sources(work, sys.argv[3] if len(sys.argv) > 3 else None, lexicon)
    bench = len(held)
    own = set()
    while len(own) < 400:
        own.add(orders.sample(rng))
    own = sorted(s for s in own if 1 < len(s.split()) < 13)
    held |= set(own)
    here = pathlib.Path(__file__).parent.parent
    every = sorted(w for w in lexicon if 2 < len(w) < 12)
    common = [w for w in wordfreq.top_n_list("en", 3000) if w in lexicon]
    words = every + 30 * [w for w in (here / "food-words.txt").read_text().split() if w in lexicon]
    texts, times = [], collections.Counter()
    while len(texts) < count:
        s = sentence(rng, source, words, common)
        # Short ones are worth hearing from many; nothing held out may follow the name either.
        if len(s.split()) > 16 or times[s] >= (20 if len(s.split()) < 4 else 3) or s in held or s.partition(" ")[2] in held:
            continue
        times[s] += 1
        texts.append(s)

    def item(s):
        out = {"t": s}
        for accent, voice in (("us", "en-us"), ("gb", "en")):
            out[accent], ipa = kokoro_tokens(s, voice, vocab)
            out[accent + "p"] = [" ".join(p) for p in pronounce(s.split(), arpa.from_ipa(ipa), lexicon)]
        return out

    (work / "text.json").write_text(json.dumps([item(s) for s in texts]))
    (work / "held-out.txt").write_text("\n".join(own) + "\n")
    (work / "held-out.json").write_text(json.dumps([item(s) for s in own]))
    print(len(texts), "sentences,", len(times), "different,", len(own), "and of the bench", bench, "held out;", {k: len(v) for k, v in source.items()})


if __name__ == "__main__":
    main()
