"""voices.py FOLDER [WHISPER]: what two recognisers that are not ours understand of FOLDER/ENGINE-NN.wav, which `cargo
bench --bench voices -- FOLDER` writes. Numbers are compared as words. PocketSphinx brings its own American model; WHISPER
is a folder with a model for faster-whisper. Both and scipy come from the Python package index."""
import re
import sys
import wave
from math import gcd
from pathlib import Path

import numpy as np
from scipy.signal import resample_poly

ONES = ("zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen "
        "eighteen nineteen").split()
TENS = "x x twenty thirty forty fifty sixty seventy eighty ninety".split()
NUMBERS = set(ONES + TENS + "hundred thousand half third thirds quarter quarters".split())


def cardinal(n):
    if n < 20:
        return ONES[n]
    if n < 100:
        return TENS[n // 10] + (" " + ONES[n % 10] if n % 10 else "")
    if n < 1000:
        return ONES[n // 100] + " hundred" + (" " + cardinal(n % 100) if n % 100 else "")
    return cardinal(n // 1000) + " thousand" + (" " + cardinal(n % 1000) if n % 1000 else "")


def words(text):
    text = text.lower().replace("-", " ").replace(",", "")
    text = re.sub(r"(\d+):(\d\d)", lambda m: cardinal(int(m[1])) + " " + cardinal(int(m[2])), text)
    for sign, said in (("½", " half"), ("1/2", "half"), ("2/3", "two thirds"), ("1/3", "third"), ("3/4", "three quarters"),
                       ("¾", " three quarters"), ("⅔", "two thirds"), ("¼", " quarter"), ("1/4", "quarter")):
        text = text.replace(sign, said)
    # 'Four and a half' may be written 4.5.
    text = re.sub(r"(\d+)\.5\b", lambda m: cardinal(int(m[1])) + " and a half", text)
    text = re.sub(r"(\d+)\.25\b", lambda m: cardinal(int(m[1])) + " and a quarter", text)
    text = re.sub(r"\d+", lambda m: " " + cardinal(int(m[0])) + " ", text)
    return re.findall(r"[a-z']+", text)


def numbers(text):
    said = [w for w in words(text) if w in NUMBERS or w == "a"]
    # 'A hundred' and 'one hundred' are one number.
    out = []
    for at, word in enumerate(said):
        if word == "a":
            if said[at + 1:at + 2] in (["hundred"], ["thousand"]):
                out.append("one")
        else:
            out.append(word)
    return out


def errors(wanted, found):
    row = list(range(len(found) + 1))
    for i, a in enumerate(wanted, 1):
        last, row[0] = row[0], i
        for j, b in enumerate(found, 1):
            last, row[j] = row[j], min(row[j] + 1, row[j - 1] + 1, last + (a != b))
    return row[-1]


def load(path):
    sound = wave.open(str(path))
    rate = sound.getframerate()
    samples = np.frombuffer(sound.readframes(sound.getnframes()), "<i2").astype(np.float32) / 32768
    by = gcd(16000, rate)
    return resample_poly(samples, 16000 // by, rate // by).astype(np.float32)


def sphinx():
    from pocketsphinx import Decoder
    decoder = Decoder(samprate=16000, loglevel="ERROR")

    def read(sound):
        decoder.start_utt()
        decoder.process_raw((np.pad(sound, (8000, 8000)) * 32767).astype("<i2").tobytes(), full_utt=True)
        decoder.end_utt()
        return decoder.hyp().hypstr if decoder.hyp() else ""
    return read


def whisper(folder):
    from faster_whisper import WhisperModel
    model = WhisperModel(folder, device="cpu", compute_type="int8", cpu_threads=1)
    return lambda sound: " ".join(s.text for s in model.transcribe(sound, language="en", beam_size=5)[0])


folder = Path(sys.argv[1])
texts = (Path(__file__).parent / "voices.txt").read_text().split("\n")[:-1]
readers = {"PocketSphinx": sphinx()}
if len(sys.argv) > 2:
    readers["Whisper"] = whisper(sys.argv[2])
for engine in sorted({p.stem.rsplit("-", 1)[0] for p in folder.glob("*.wav")}):
    for name, read in readers.items():
        right = wrong = count = 0
        for n, text in enumerate(texts):
            heard = read(load(folder / f"{engine}-{n:02}.wav"))
            good = numbers(text) == numbers(heard)
            right += good
            wrong += errors(words(text), words(heard))
            count += len(words(text))
            if not good:
                print(f"  {text} -> {heard}")
        print(f"{engine}, {name}: numbers right in {right} of {len(texts)}, words wrong {wrong / count:.1%}")
