# ruff: noqa: INP001 - a script beside the other scripts
"""Make the tone of the alarms: ``python packaging/alarm_tone.py resources/sounds/alarm.wav``.

Three rising pairs of notes, a fifth apart, with two overtones each and soft ends.
"""

import math
import struct
import sys
import wave

RATE = 16_000
NOTES = (740.0, 1110.0)
LONG, PAUSE, RAMP = 0.16, 0.12, 0.012
OVERTONES = (1.0, 0.4, 0.2)
LOUD = 0.9


def samples() -> list[float]:
    """Return the tone, −1 to 1."""
    found: list[float] = []
    for _ in range(3):
        for note in NOTES:
            found += [_at(step / RATE, note) for step in range(round(LONG * RATE))]
        found += [0.0] * round(PAUSE * RATE)
    top = max(abs(value) for value in found)
    return [LOUD * value / top for value in found]


def _at(time: float, note: float) -> float:
    ends = min(1.0, time / RAMP, (LONG - time) / RAMP)
    waves = (
        share * math.sin(2 * math.pi * note * number * time)
        for number, share in enumerate(OVERTONES, start=1)
    )
    return ends * sum(waves)


def main(path: str) -> None:
    """Write it, mono, 16 bits."""
    values = [round(32767 * value) for value in samples()]
    with wave.open(path, "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(RATE)
        file.writeframes(struct.pack(f"<{len(values)}h", *values))


if __name__ == "__main__":
    main(sys.argv[1])
