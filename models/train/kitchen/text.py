"""Stage `text`: sentences to be spoken, and the held-out ones.

    python -m kitchen.text WORK [COUNT]

Writes WORK/text.json: for each sentence the words, Kokoro's tokens in an American and a British reading, and the model
phones of each. A third are orders of `kitchen.orders`, a third sentences of the program's own network (WORK/phrases.txt, made by `cargo run
--example phrases`), the rest orders of a word or two, rows of numbers, and words at random, so that every word and
every pair of phones is met. Held-out sentences (WORK/held-out.json and .txt) never occur among them.
"""

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


SHORT = ("next again back repeat yes no done stop pause resume undo help louder quieter slower faster cancel okay ready confirm finished "
         "commis chef baker kitchen computer").split() + ["not yet", "go on", "go back", "next step", "what's next", "never mind", "yes please",
         "no thanks", "it's in", "say that again", "stop the timer", "how long is left", "where am i", "start it", "hold on", "stop talking"]
NAMES = ["commis", "commis", "commis", "chef", "baker", "kitchen", "computer", "okay commis", "hey chef"]


def sentence(rng, phrases, words, common):
    """One sentence by chance."""
    r = rng.random()
    if r < 0.36:
        return orders.sample(rng)
    if r < 0.68:
        s = rng.choice(phrases)
        return s if rng.random() < 0.8 else rng.choice(NAMES) + " " + s
    if r < 0.72:
        return rng.choice(NAMES) + " " + orders.sample(rng)
    if r < 0.80:
        return " ".join(orders.sample(rng, rng.choice(["number", "number", "span", "clock"])) for _ in range(rng.randint(1, 3)))
    if r < 0.86:
        return " ".join(rng.sample(SHORT, rng.choice([1, 1, 1, 2])))
    if r < 0.92:
        return " ".join(rng.choice(common) for _ in range(rng.randint(4, 9)))
    return " ".join(rng.choice(words) for _ in range(rng.randint(2, 6)))


def main():
    work = pathlib.Path(sys.argv[1])
    count = int(sys.argv[2]) if len(sys.argv) > 2 else 20000
    lexicon = json.loads((work / "lexicon.json").read_text())
    vocab = json.loads((work / "kokoro" / "vocab.json").read_text())["vocab"]
    rng = random.Random(7)
    phrases = [s for s in (work / "phrases.txt").read_text().splitlines() if len(s.split()) < 14 and all(w in lexicon for w in s.split())]
    held = set()
    while len(held) < 400:
        held.add(orders.sample(rng))
    held = sorted(s for s in held if 1 < len(s.split()) < 13)
    here = pathlib.Path(__file__).parent.parent
    every = sorted(w for w in lexicon if 2 < len(w) < 12)
    common = [w for w in wordfreq.top_n_list("en", 3000) if w in lexicon]
    words = every + 30 * [w for w in (here / "food-words.txt").read_text().split() if w in lexicon]
    texts, seen = [], set(held)
    while len(texts) < count:
        s = sentence(rng, phrases, words, common)
        if len(s.split()) > 16 or s in seen and (len(s.split()) > 2 or s in held):
            continue
        seen.add(s)
        texts.append(s)

    def item(s):
        out = {"t": s}
        for accent, voice in (("us", "en-us"), ("gb", "en")):
            out[accent], ipa = kokoro_tokens(s, voice, vocab)
            out[accent + "p"] = [" ".join(p) for p in pronounce(s.split(), arpa.from_ipa(ipa), lexicon)]
        return out

    (work / "text.json").write_text(json.dumps([item(s) for s in texts]))
    (work / "held-out.txt").write_text("\n".join(held) + "\n")
    (work / "held-out.json").write_text(json.dumps([item(s) for s in held]))
    print(len(texts), "sentences,", len(held), "held out,", len(phrases), "phrases;", texts[3], "/", texts[-1])


if __name__ == "__main__":
    main()
