"""Words that tell of an order: those that its lines have more often than others do, by several writers.

    python3 models/reader/telling.py > models/reader/telling.txt

A line each, the order's name and its words. `src/reader/telling.rs` reads them: a guess at an order of which nothing in the sentence
tells is not made. With `--left-out` it counts the lines of the corpus of which nothing would tell if their own writer were not there.
"""
import collections
import json
import pathlib
import re
import sys
import tomllib

HERE = pathlib.Path(__file__).parent
# Words that tell of nothing, by themselves.
EMPTY = set("""the a an of my to it is was has been some i am me we are they that this and so for be do its there he she us our your you one two
three four five six seven eight nine ten eleven twelve fifteen twenty thirty forty fifty sixty hundred thousand please just now then oh well
love right ok okay""".split())
# So many writers, and so many times as often as in all lines.
WRITERS, OFTEN = 2, 2.0
CONTRACTIONS = {"can't": "can not", "cannot": "can not", "won't": "will not", "let's": "let us", "what's": "what is"}


def stem(word):
    for ending in ("ing", "ed", "es", "s", "e"):
        if word.endswith(ending) and len(word) - len(ending) >= 3:
            word = word[: -len(ending)]
            break
    if len(word) > 3 and word[-1] == word[-2] and word[-1] not in "aeiousl":
        word = word[:-1]
    return word


def words(text):
    text = text.lower().replace("\u2019", "'")
    for short, long in CONTRACTIONS.items():
        text = text.replace(short, long)
    text = text.replace("n't", " not")
    text = re.sub(r"'(s|re|ve|m|ll|d)\b", "", text)
    return [w for w in re.findall(r"[a-z]+", text)]


def head(order):
    return order["intent"] + ("." + order["slots"]["question"] if order["intent"] == "ask" else "")


def ingredients():
    """For each formula, the names of an ingredient by its id."""
    out = {}
    for path in (HERE / "formulas").glob("*.toml"):
        for i in tomllib.load(open(path, "rb")).get("ingredient", []):
            out[path.stem, i["id"]] = " ".join([i["id"], i.get("name", ""), i.get("say", ""), *i.get("also", [])])
    return out


def lines():
    known = ingredients()
    for path in sorted((HERE / "corpus").glob("*.jsonl")):
        for line in open(path):
            row = json.loads(line)
            situation = row["situation"]
            named = json.dumps([situation.get("timers"), situation.get("rings"), situation.get("weighing")])
            heads = []
            if not isinstance(row["meaning"], str):
                heads = sorted({head(o) for o in row["meaning"]})
                named += json.dumps([o.get("slots") for o in row["meaning"]])
            own = {str(o.get("slots", {}).get("ingredient")) for o in row["meaning"]} if heads else set()
            named += " ".join(known.get((situation["formula"], i), "") for i in own | {situation.get("weighing")})
            names = {stem(w) for w in re.findall(r"[a-z]+", named.lower())}
            said = {stem(w) for w in words(row["text"]) if w not in EMPTY}
            yield row, heads, said - names, said


def main():
    rows = list(lines())
    n, of = collections.Counter(), collections.Counter()
    by, writers = collections.defaultdict(collections.Counter), collections.defaultdict(lambda: collections.defaultdict(set))
    for row, heads, told, said in rows:
        n.update(said)
        for h in heads:
            of[h] += 1
            for w in told:
                by[h][w] += 1
                writers[h][w].add(row["writer"])

    def tells(h, w, without=None):
        often = by[h][w] / of[h] >= OFTEN * n[w] / len(rows)
        return often and len(writers[h][w] - {without}) >= WRITERS

    if "--left-out" in sys.argv:
        bare = collections.Counter()
        for row, heads, told, said in rows:
            if heads:
                bare["lines"] += 1
                silent = [h for h in heads if not any(tells(h, w, row["writer"]) for w in said)]
                if silent and len(row["text"].split()) > 2:
                    bare["bare"] += 1
                    bare[silent[0]] += 1
        print(bare.most_common(30))
        return
    for h in sorted(of):
        print(h, *sorted(w for w in by[h] if tells(h, w)))


if __name__ == "__main__":
    main()
