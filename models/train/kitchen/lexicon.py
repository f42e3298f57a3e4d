"""Stage `lexicon`: words and how they are said, American and British.

    python -m kitchen.lexicon WORK [MORE_WORDS.txt ...]

American forms come from the CMU dictionary (inside `pocketsphinx`), British ones from espeak-ng's British rules, and a
word in neither gets espeak-ng's American form too. Writes WORK/lexicon.json: word -> list of pronunciations, the first
being the usual American one. Words: the grammar (`grammar-words.txt`, made by `cargo run --example phrases -- words FORMULA...`), the food list,
the words of the first model and the most frequent English words.
"""

import json
import pathlib
import re
import sys

from . import arpa, espeak, orders

EXTRA = {
    "commis": ["K AA M IY", "K AO M IY"], "tare": ["T EH R", "T EH AH"], "litre": ["L IY T ER", "L IY T AH"],
    "litres": ["L IY T ER Z", "L IY T AH Z"], "herbs": ["ER B Z", "HH ER B Z"], "herb": ["ER B", "HH ER B"],
    "what": ["W AA T", "W AH T"], "a": ["AH", "EY"], "the": ["DH AH", "DH IY"], "prove": ["P R UW V"],
    "oregano": ["AO R EH G AH N OW", "AA R IH G AA N OW"], "yogurt": ["Y OW G ER T", "Y AA G AH T"],
    "zucchini": ["Z UW K IY N IY"], "of": ["AH V", "AA V"], "to": ["T UW", "T AH"], "and": ["AE N D", "AH N D", "AH N"],
    "for": ["F AO R", "F ER", "F AO", "F AH"], "paprika": ["P AH P R IY K AH", "P AE P R IH K AH"], "can": ["K AE N", "K AH N"],
    "o": ["OW", "AH"], "p": ["P IY"], "m": ["EH M"], "fifth": ["F IH F TH"],
}


def cmu():
    """The CMU dictionary that comes with pocketsphinx: word -> pronunciations."""
    import pocketsphinx

    out = {}
    for line in open(f"{pocketsphinx.get_model_path()}/en-us/cmudict-en-us.dict", encoding="utf-8"):
        word, *phones = line.split()
        out.setdefault(re.sub(r"\(\d+\)$", "", word), []).append(phones)
    return out


def spoken(word, base):
    """All pronunciations of a word: the dictionary's (`base`), ours, British, and rules for what is in no dictionary."""
    prons = [p.split() for p in EXTRA.get(word, [])] + list(base.get(word, []))
    if not prons:
        prons.append(arpa.from_ipa(espeak.phonemes(word, "en-us")))
    prons.append(arpa.from_ipa(espeak.phonemes(word, "en")))
    out = []
    for p in prons:
        if p and p not in out:
            out.append(p)
    return out


def frequent(count):
    """The most frequent English words that are plain words."""
    import wordfreq

    ok = re.compile(r"[a-z]+(?:'[a-z]+)?$")
    return [w for w in wordfreq.top_n_list("en", 3 * count) if ok.match(w)][:count]


def main():
    work = pathlib.Path(sys.argv[1])
    here = pathlib.Path(__file__).parent.parent
    words = orders.words() + (here / "first-words.txt").read_text().split() + (here / "food-words.txt").read_text().split()
    base = cmu()
    words += [w for w in frequent(14000) if w in base or len(w) > 2]
    for path in [here / "grammar-words.txt", *sys.argv[2:]]:
        words += pathlib.Path(path).read_text().split()
    words = [w for w in dict.fromkeys(words) if re.fullmatch(r"[a-z][a-z'.]*", w)]
    lexicon = {w: spoken(w, base) for w in sorted(words)}
    lexicon = {w: p for w, p in lexicon.items() if p}
    work.mkdir(parents=True, exist_ok=True)
    (work / "lexicon.json").write_text(json.dumps(lexicon))
    print(len(lexicon), "words", sum(map(len, lexicon.values())), "pronunciations;", sum(w not in base for w in lexicon), "by rule")


if __name__ == "__main__":
    main()
