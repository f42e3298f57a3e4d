"""Makes number_words.tsv: numbers in words as other programs write and read them.

Run in a virtual environment with the Python packages num2words, text2num and word2number:

    python tests/tables/make_number_words.py > tests/tables/number_words.tsv

Columns: the program and its setting, the words, the value. `num2words` wrote the words from the value; `text2num` and
`word2number` read the value from the words (phrases that they refuse are left out).
"""

from importlib.metadata import version

from num2words import num2words
from text_to_num import text2num
from word2number import w2n

PHRASES = """
twelve hundred
twelve hundred and fifty
a hundred
a hundred and five
one thousand two hundred
two thousand and five
nineteen hundred
seventy five
two hundred fifty
two hundred and fifty
three thousand nine hundred ninety nine
one hundred and one
forty five
ninety
ninety nine
six hundred and sixty six
eleven hundred
two point five
zero point seven five
one point two five
three point one four
one thousand and twenty five
five hundred
fifteen
fifty
thirteen
thirty
zero
""".split("\n")


def ours(words):
    return " ".join(words.replace("-", " ").replace(",", " ").split())


def row(source, words, value):
    print(f"{source}\t{words}\t{value}")


def main():
    packages = ("num2words", "text2num", "word2number")
    print("# " + ", ".join(f"{p} {version(p)}" for p in packages))
    print("# made by make_number_words.py; columns: program, words, value")
    whole = list(range(0, 1001)) + list(range(1001, 10000, 37))
    for lang in ("en", "en_GB"):
        for n in whole:
            row(f"num2words:{lang}", num2words(n, lang=lang), n)
    for tenths in range(1, 400, 7):
        row("num2words:en", num2words(tenths / 10), tenths / 10)
    for hundredths in range(1, 3000, 41):
        row("num2words:en", num2words(hundredths / 100), hundredths / 100)
    phrases = [p for p in PHRASES if p] + [ours(num2words(n)) for n in range(3, 10000, 61)]
    for phrase in phrases:
        try:
            row("text2num", phrase, text2num(phrase, "en"))
        except ValueError:
            pass
        try:
            row("word2number", phrase, w2n.word_to_num(phrase))
        except ValueError:
            pass


if __name__ == "__main__":
    main()
