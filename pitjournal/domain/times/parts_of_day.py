"""Parts of a day as people say them: "last night 8:05 pm", "this morning at 6", "tonight 9"."""

import re

_PART = re.compile(
    r"\b(?:(?P<day>last|this|yesterday|today|tomorrow|[a-z]{3,6}day)\s+"
    r"(?P<part>morning|afternoon|evening|night)|tonight)\b"
)
_CLOCK = re.compile(r"(?P<hour>\d{1,2})(?:[:.h](?P<minute>\d\d))?\s*(?P<half>[ap])?(?:\.?m\.?)?")
_FOLLOWS = {"yesterday": "today", "today": "tomorrow"}
_EARLY = 4
"""What is called night goes on until four or so in the morning."""


def with_plain_day(words: str) -> str:
    """Return a time with its part of a day as a day and a half: "yesterday 8:05 pm".

    What follows midnight is of the next day, as it is for who says "last night at 1". Words that
    say no part of a day, or no time beside it, come back as they are.
    """
    found = _PART.search(words)
    if found is None:
        return words
    rest = f"{words[: found.start()]} {words[found.end() :]}".replace(",", " ").strip()
    clock = _CLOCK.fullmatch(rest.removeprefix("at ").removeprefix("about ").strip())
    if clock is None or int(clock["hour"]) > 23:
        return words
    part = found["part"] or "night"
    said = found["day"] or "this"
    day = {"last": "yesterday", "this": "today"}.get(said, said)
    hour, half = int(clock["hour"]), clock["half"] or ""
    if not half and hour <= 12:
        half = _half_of(hour, part)
    if part == "night" and (half == "a" or (not half and hour <= _EARLY)):
        day = _FOLLOWS.get(day, "")
    if not day or (part == "morning" and hour == 12):
        return words
    return f"{day} {hour}:{clock['minute'] or '00'}" + (f" {half}m" if half and hour else "")


def _half_of(hour: int, part: str) -> str:
    """Return the half of the day that an hour of a part of it lies in: "a" or "p"."""
    if part == "night":
        return "a" if hour <= _EARLY or hour == 12 else "p"
    return "a" if part == "morning" else "p"
