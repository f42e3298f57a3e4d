#!/usr/bin/env python3
"""Learns to read words aloud from a lexicon: which sounds a letter is between its neighbours, and where the stress is.

Letters are aligned with sounds (each letter gives none to three, the likeliest way round, found by turns of counting and
aligning). A rule is a letter with so many neighbours on either side; the rule with the most neighbours is used. A rule
is kept where it says something else than the next shorter one. Stress is a second list: by the end of the word and its count of vowels.
`letters.py words.txt` holds one word in twenty back and prints how many of them are read right.
"""
import collections, math, sys, zlib

VOWELS = set("AIOQWYaiuæɑɒɔəɛɜɪʊʌᵻᵊɚ")
# How many neighbours a rule has, left and right, from the most to the fewest.
SIDES = [(4, 4), (3, 4), (3, 3), (2, 3), (2, 2), (1, 2), (1, 1), (0, 1), (0, 0)]
LEAST = 3  # a rule that fewer words than this speak for is none


def usable(word, sounds):
    return len(word) > 2 and word.isascii() and word.isalpha() and sounds and not word[1:].isupper() and " " not in sounds


def plain(sounds):
    return tuple(c for c in sounds if c not in "ˈˌ")


def align(pairs, turns=6):
    """The sounds of each letter, for each word."""
    chance = collections.defaultdict(lambda: -6.0)
    result = []
    for turn in range(turns):
        counts = collections.Counter()
        result = []
        for word, sounds in pairs:
            n, m = len(word), len(sounds)
            best = [[-1e9] * (m + 1) for _ in range(n + 1)]
            back = [[0] * (m + 1) for _ in range(n + 1)]
            best[0][0] = 0.0
            for i in range(n):
                row, nxt, bk = best[i], best[i + 1], back[i + 1]
                for j in range(m + 1):
                    at = row[j]
                    if at < -1e8:
                        continue
                    for k in range(0, min(3, m - j) + 1):
                        if turn == 0:
                            # At first: even lengths, vowels with vowels.
                            c = at - abs((j + k / 2) / m - (i + 0.5) / n) - 0.7 * abs(k - 1)
                            if k == 1:
                                c -= 1.5 * ((word[i] in "aeiouy") != (sounds[j] in VOWELS))
                        else:
                            c = at + chance[word[i], sounds[j:j + k]]
                        if c > nxt[j + k]:
                            nxt[j + k] = c
                            bk[j + k] = k
            if best[n][m] < -1e8:
                continue
            j, parts = m, []
            for i in range(n, 0, -1):
                k = back[i][j]
                parts.append(sounds[j - k:j])
                j -= k
            parts.reverse()
            result.append((word, parts))
            counts.update(zip(word, parts))
        totals = collections.Counter()
        for (letter, _), c in counts.items():
            totals[letter] += c
        chance = collections.defaultdict(lambda: -14.0, {k: math.log(c / totals[k[0]]) for k, c in counts.items()})
    return result


def contexts(word, i):
    padded = "####" + word + "####"
    at = i + 4
    return [padded[at - l:at] + "." + padded[at] + padded[at + 1:at + 1 + r] for l, r in SIDES]


def rules(aligned):
    votes = [collections.defaultdict(collections.Counter) for _ in SIDES]
    for word, parts in aligned:
        for i, part in enumerate(parts):
            for table, key in zip(votes, contexts(word, i)):
                table[key]["".join(part)] += 1
    kept = {}
    for level in range(len(SIDES) - 1, -1, -1):
        l, r = SIDES[level]
        for key, counts in votes[level].items():
            part, c = counts.most_common(1)[0]
            if level < len(SIDES) - 1:
                if c < LEAST:
                    continue
                if part == shorter(kept, key, level):
                    continue
            kept[key] = part
    return kept


def shorter(kept, key, level):
    dot = key.index(".")
    for l, r in SIDES[level + 1:]:
        k = key[dot - l:dot] + key[dot:dot + 2 + r]
        if k in kept:
            return kept[k]
    return ""


def stress_keys(word, vowels):
    n = min(vowels, 5)
    return [f"{n}{word[-k:]}" for k in (6, 5, 4, 3, 2)] + [f"{n}"]


def stresses(pairs):
    """Which vowel from the end has the main stress."""
    votes = collections.defaultdict(collections.Counter)
    for word, sounds in pairs:
        vowels = [i for i, c in enumerate(sounds) if c in VOWELS]
        if len(vowels) < 2 or sounds.count("ˈ") != 1:
            continue
        at = sounds.index("ˈ")
        from_end = sum(1 for v in vowels if v > at)
        for key in stress_keys(word, len(vowels)):
            votes[key][from_end] += 1
    kept = {}
    for key in sorted(votes, key=len):
        place, c = votes[key].most_common(1)[0]
        if len(key) > 1:
            if c < LEAST:
                continue
            parent = next((kept[k] for k in [key[0] + key[j:] for j in range(2, len(key) + 1)] if k in kept), None)
            if parent == place:
                continue
        kept[key] = place
    return kept


def read(word, letters, places):
    out = []
    for i in range(len(word)):
        out += next((letters[k] for k in contexts(word, i) if k in letters), "")
    vowels = [i for i, c in enumerate(out) if c in VOWELS]
    if vowels:
        back = next((places[k] for k in stress_keys(word, len(vowels)) if k in places), len(vowels))
        out.insert(vowels[-min(max(back, 1), len(vowels))], "ˈ")
    return "".join(out)


def prepare(words):
    return [(w.lower(), s) for w, s in words.items() if usable(w, s)]


def fit(pairs):
    aligned = align([(w, plain(s)) for w, s in pairs])
    return rules(aligned), stresses(pairs)


def learn(words, path):
    letters, places = fit(prepare(words))
    with open(path, "w", encoding="utf-8") as f:
        for key, part in sorted({**letters, **places}.items(), key=lambda e: e[0].encode()):
            f.write(f"{key}\t{part}\n")


def distance(a, b):
    row = list(range(len(b) + 1))
    for i, x in enumerate(a, 1):
        last, row[0] = row[0], i
        for j, y in enumerate(b, 1):
            last, row[j] = row[j], min(row[j] + 1, row[j - 1] + 1, last + (x != y))
    return row[-1]


if __name__ == "__main__":
    words = dict(line.rstrip("\n").split("\t")[:2] for line in open(sys.argv[1], encoding="utf-8"))
    pairs = prepare(words)
    held = lambda w: zlib.crc32(w.encode()) % 20 == 0
    letters, places = fit([p for p in pairs if not held(p[0])])
    whole = sounds_right = errors = length = n = 0
    for word, sounds in (p for p in pairs if held(p[0])):
        told = read(word, letters, places)
        one_stress = sounds.replace("ˌ", "")
        n += 1
        whole += told == one_stress
        sounds_right += plain(told) == plain(sounds)
        errors += distance(plain(told), plain(sounds))
        length += len(plain(sounds))
    print(f"{len(letters)} rules, {len(places)} of stress; {n} words held back: sounds and stress right {whole / n:.1%}, sounds {sounds_right / n:.1%}, "
          f"a wrong sound in {length / errors:.0f} ({errors / length:.1%})")
