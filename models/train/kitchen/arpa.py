"""Phones: the forty of the model, and how espeak-ng's alphabet maps to them."""

PHONES = ["SIL"] + ("AA AE AH AO AW AY B CH D DH EH ER EY F G HH IH IY JH K L M N NG OW OY P R S SH T TH UH UW V W Y Z ZH").split()
INDEX = {p: i for i, p in enumerate(PHONES)}

_MAP = {
    "aɪ": "AY", "aʊ": "AW", "eɪ": "EY", "oʊ": "OW", "əʊ": "OW", "ɔɪ": "OY", "tʃ": "CH", "dʒ": "JH", "iː": "IY", "uː": "UW", "ɑː": "AA",
    "ɔː": "AO", "oː": "AO", "ɜː": "ER", "iə": "IH AH", "ɪə": "IH AH", "eə": "EH AH", "ʊə": "UH AH", "əl": "AH L", "n̩": "AH N", "ɛː": "EH",
    "ʌɪ": "AY", "aː": "AA",
    "i": "IY", "ɪ": "IH", "ᵻ": "IH", "ɛ": "EH", "e": "EH", "æ": "AE", "a": "AE", "ɑ": "AA", "ɒ": "AA", "ɔ": "AO", "o": "OW", "ʊ": "UH",
    "u": "UW", "ʌ": "AH", "ə": "AH", "ɐ": "AH", "ɜ": "ER", "ɚ": "ER", "b": "B", "d": "D", "f": "F", "ɡ": "G", "g": "G", "h": "HH",
    "j": "Y", "k": "K", "x": "K", "l": "L", "ɫ": "L", "ɬ": "L", "m": "M", "n": "N", "ŋ": "NG", "p": "P", "ɹ": "R", "r": "R", "s": "S",
    "ʃ": "SH", "t": "T", "ɾ": "T", "ʔ": "T", "θ": "TH", "ð": "DH", "v": "V", "w": "W", "z": "Z", "ʒ": "ZH", "ʧ": "CH", "ʤ": "JH",
}


def from_ipa(text):
    """Model phones of an espeak-ng phoneme string; stress, length and spaces are dropped."""
    text = "".join(c for c in text if c not in "ˈˌ|_-^ʲ ")
    out, i = [], 0
    while i < len(text):
        for n in (2, 1):
            if text[i : i + n] in _MAP:
                out += _MAP[text[i : i + n]].split()
                i += n
                break
        else:
            i += 1
    return out
