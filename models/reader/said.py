"""The text of free hearing: every line of the corpus once, orders and talk, in order.

    python3 models/reader/said.py > models/reader/said.txt
"""
import json
import pathlib

HERE = pathlib.Path(__file__).resolve().parent


def main():
    lines = set()
    for path in sorted((HERE / "corpus").glob("*.jsonl")):
        lines |= {" ".join(json.loads(line)["text"].lower().split()) for line in path.read_text().splitlines()}
    print("\n".join(sorted(lines)))


if __name__ == "__main__":
    main()
