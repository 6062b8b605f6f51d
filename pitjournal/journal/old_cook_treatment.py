"""What an old table says was done to the meat, in whatever words."""

import re

from pitjournal.domain.cuts.done import done_in, named_by_blade
from pitjournal.domain.treatment import TreatmentKind

_TREATED = (
    (
        TreatmentKind.NONE,
        r"\b(?:none|nothing|left alone|control|plain|no|not|nein|nicht|ohne|n|sin|nada|natur)\b|^(?:un|non)\w",
    ),
    (TreatmentKind.DRY_BRINED, r"dry.?brin|trocken.?(?:lake|gepokelt|gesalzen)|salmuera seca"),
    (TreatmentKind.INJECTED, r"\bshot|^(?:yes|y|x|ja|j|si)$"),
    (TreatmentKind.BRINED, r"brine|lake|salmuera"),
    (TreatmentKind.MARINATED, r"marin|adobo"),
)
"""How else a treatment is written (common practice, no source); the first that fits counts."""

_DONE = (TreatmentKind.INJECTED, TreatmentKind.NEEDLED, TreatmentKind.BLADED)
"""Those that the one list of what is done to meat names; they count before all else."""


def treatment_in(words: str) -> TreatmentKind:
    """Return the kind of treatment that some words mean."""
    text = words.casefold().strip()
    done = {one.what for one in done_in(words)}
    named = next((kind for kind in _DONE if str(kind) in done), None)
    if named is not None or done:
        return named or TreatmentKind.OTHER
    if named_by_blade(words):
        return TreatmentKind.BLADED
    return next((kind for kind, form in _TREATED if re.search(form, text)), TreatmentKind.OTHER)
