"""Takes filled sheets into the corpus: every line with its situation, its meaning, its writer and who the writer played.

    python3 models/reader/gather.py MADE LINES CORPUS
    python3 models/reader/gather.py MADE LINES models/reader/held    (the sheets from 46 on, which no other command but measure.sh reads)

MADE: what make_sheets.py made (keys). LINES/sheet-NN.tsv: id TAB line; a first line `# persona: ...` tells who spoke.
CORPUS/sheet-NN.jsonl: one line each. Every sheet has its own writer.
"""
import json
import pathlib
import re
import sys


def lean(situation):
    return {k: v for k, v in situation.items() if v not in (None, [], "silent")}


def main():
    made, lines, corpus = map(pathlib.Path, sys.argv[1:4])
    corpus.mkdir(exist_ok=True, parents=True)
    personas = {}
    if (lines.parent / "personas.tsv").exists():
        for line in (lines.parent / "personas.tsv").read_text().splitlines():
            sheet, _, persona = line.partition("\t")
            personas[int(re.sub(r"\D", "", sheet) or 0)] = persona
    for path in sorted(lines.glob("sheet-*.tsv")):
        n = int(path.stem[-2:])
        key = json.loads((made / "keys" / f"{path.stem}.json").read_text())
        persona, out, seen = personas.get(n, ""), [], set()
        for line in path.read_text().splitlines():
            if line.startswith("#"):
                persona = line.lstrip("# ").removeprefix("persona:").strip()
                continue
            id, _, text = line.partition("\t")
            text = " ".join(text.split())
            if id in key and text and id not in seen:
                seen.add(id)
                k = key[id]
                out.append({"id": id, "text": text, "writer": f"w{n:02}", "persona": persona, "topic": k["topic"], "name": k["name"],
                            "situation": lean(k["situation"]), "meaning": k["meaning"]})
        (corpus / f"{path.stem}.jsonl").write_text("".join(json.dumps(o, ensure_ascii=False, separators=(",", ":")) + "\n" for o in out))
        print(f"{path.stem}: {len(out)} of {len(key)}")


if __name__ == "__main__":
    main()
