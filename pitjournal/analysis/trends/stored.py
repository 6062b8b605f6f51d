"""A question as it is kept in a journal, and back; a newer version's stays as it is."""

from collections.abc import Mapping
from typing import Any

from pitjournal.analysis.trends.question import By, Part, Picture, Question, Sign, Where
from pitjournal.errors import JournalError

VERSION = 1


def kept(question: Question) -> dict[str, Any]:
    """Return a question as plain values."""
    return {
        "version": VERSION,
        "measure": question.measure,
        "by": [
            {"key": by.key, "part": by.part and str(by.part), "edges": list(by.edges)}
            for by in question.by
        ],
        "where": [
            {"key": w.key, "sign": str(w.sign), "values": list(w.values)} for w in question.where
        ],
        "within": question.within,
        "against_control": question.against_control,
        "held": list(question.held),
        "picture": question.picture and str(question.picture),
    }


def asked(values: Mapping[str, Any]) -> Question:
    """Return a kept question.

    Raises
    ------
    JournalError
        If a newer version kept it, or it can't be read.
    """
    version = values.get("version")
    if isinstance(version, int) and version > VERSION:
        message = "A newer version of Pitjournal saved this question."
        raise JournalError(message, "It is kept as it is; update to ask it.")
    try:
        picture = values.get("picture")
        return Question(
            str(values["measure"]),
            tuple(
                By(
                    str(by["key"]),
                    Part(by["part"]) if by.get("part") else None,
                    tuple(float(edge) for edge in by.get("edges", ())),
                )
                for by in values.get("by", ())
            ),
            tuple(
                Where(str(w["key"]), Sign(w["sign"]), tuple(w["values"]))
                for w in values.get("where", ())
            ),
            bool(values.get("within", False)),
            tuple(str(key) for key in values.get("held", ())),
            Picture(picture) if picture else None,
            against_control=bool(values.get("against_control", False)),
        )
    except (KeyError, TypeError, ValueError, AttributeError) as error:
        message = "This saved question can't be read."
        raise JournalError(message, "It is kept as it is; save it anew to ask it.") from error
