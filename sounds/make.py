#!/usr/bin/env python3
"""Makes the chimes. Run in this folder: `python3 make.py`. Standard library only.

Each meaning has a rhythm of its own, so that it is told apart by beat and not only by pitch:
  listening       one soft tick
  cue             long
  asked           short, long (rising)
  not_understood  long, short (falling)
  enough          two short (rising): what is poured on the scale is there
  due             three short, rest, three short (rising), at four urgencies: louder, quicker and brighter
"""
import math, struct, wave

RATE = 22050

def tone(hz, seconds, level, bright=0.2):
    n = int(RATE * seconds)
    out = []
    for i in range(n):
        t = i / RATE
        envelope = min(1.0, i / (0.006 * RATE)) * math.exp(-3.2 * t / seconds) * min(1.0, (n - i) / (0.01 * RATE))
        s = math.sin(2 * math.pi * hz * t) + bright * math.sin(4 * math.pi * hz * t) + bright / 2 * math.sin(6 * math.pi * hz * t)
        out.append(level * envelope * s / (1 + 1.5 * bright))
    return out

def rest(seconds):
    return [0.0] * int(RATE * seconds)

def write(name, samples):
    with wave.open(name + ".wav", "wb") as w:
        w.setnchannels(1)
        w.setsampwidth(2)
        w.setframerate(RATE)
        w.writeframes(b"".join(struct.pack("<h", round(max(-1.0, min(1.0, s)) * 32767)) for s in samples))

write("listening", tone(1320, 0.05, 0.25))
write("cue", tone(784, 0.5, 0.6))
write("asked", tone(659, 0.10, 0.5) + rest(0.04) + tone(880, 0.32, 0.5))
write("not_understood", tone(392, 0.28, 0.5) + rest(0.05) + tone(330, 0.12, 0.5))
write("enough", tone(988, 0.08, 0.5) + rest(0.05) + tone(1319, 0.10, 0.5))
for urgency in range(4):
    level, beat, bright = 0.5 + 0.15 * urgency, 0.16 - 0.02 * urgency, 0.2 + 0.25 * urgency
    three = []
    for hz in (659, 784, 988):
        three += tone(hz, beat, level, bright) + rest(beat * 0.3)
    write(f"due{urgency}", (three + rest(0.22)) * 2)
