"""Makes the two sounds of a due recheck, our own: three struck notes, rising.

    python resources/sounds/build_ring.py

`ring.wav` is calm, `ring_loud.wav` the same at nearly full strength. The notes lie between 500 and
1,500 Hz, which ears that have lost the high tones still hear (common practice, no source).
"""

from __future__ import annotations

import math
import struct
import wave
from pathlib import Path

RATE = 22_050
NOTES = (523.25, 659.26, 783.99)  # a C major chord, in Hz
STRIKE_SECONDS = 0.45
LAST_SECONDS = 1.2
STRENGTHS = {"ring.wav": 0.35, "ring_loud.wav": 0.95}


def strike(frequency: float, seconds: float) -> list[float]:
    """One struck note: the tone and its octave, dying away."""
    samples = []
    for number in range(int(RATE * seconds)):
        at = number / RATE
        rise = min(1.0, at / 0.01)
        tone = math.sin(2 * math.pi * frequency * at) + 0.4 * math.sin(4 * math.pi * frequency * at)
        samples.append(rise * math.exp(-3.5 * at) * tone / 1.4)
    return samples


def ring() -> list[float]:
    """Three notes, twice."""
    once = [s for note in NOTES[:-1] for s in strike(note, STRIKE_SECONDS)]
    once += strike(NOTES[-1], LAST_SECONDS)
    return once + once


def main() -> None:
    """Write both files beside this one."""
    samples = ring()
    for name, strength in STRENGTHS.items():
        with wave.open(str(Path(__file__).with_name(name)), "wb") as file:
            file.setnchannels(1)
            file.setsampwidth(2)
            file.setframerate(RATE)
            whole = [round(strength * 32_767 * sample) for sample in samples]
            file.writeframes(struct.pack(f"<{len(whole)}h", *whole))


if __name__ == "__main__":
    main()
