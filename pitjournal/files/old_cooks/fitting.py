"""Which column becomes which variable: by its head, by its cells, over the whole table."""

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from pitjournal.files.old_cooks.column_profile import ColumnProfile
from pitjournal.files.old_cooks.heads import (
    ONLY_A_UNIT,
    SURE,
    head_scores,
    is_aside,
    is_named,
    unit_of_head,
)
from pitjournal.files.old_cooks.ratings import scale_of_head
from pitjournal.files.old_cooks.roles import names_money, role_of
from pitjournal.files.old_cooks.words import head_words, plain

DIMENSIONS: Mapping[str, str] = {
    **dict.fromkeys(
        (
            "mass_bought",
            "mass_trimmed",
            "mass_treated",
            "mass_on",
            "mass_off",
            "mass_rested",
            "mass_edible",
            "fuel_used",
        ),
        "mass",
    ),
    **dict.fromkeys(("set_point", "internal_off", "ambient"), "temperature"),
    **dict.fromkeys(("time_on", "time_to_wrap", "time_wrapped", "time_rested"), "duration"),
    "thickness": "length",
    "wind": "speed",
    "cost": "money",
    "price": "money",
    "pieces": "number",
    "yield_off": "number",
    "humidity": "number",
}
"""What each variable is an amount of."""

TEXTS = frozenset(
    {
        "title",
        "cooker",
        "wood",
        "fuel",
        "rub",
        "weather",
        "supplier",
        "grade",
        "place",
        "arm",
        "treatment",
        "notes",
        "kind",
    }
)
RATINGS = frozenset(
    {
        "rating",
        "score.tenderness",
        "score.flavour",
        "score.appearance",
        "score.juiciness",
        "score.bark",
        "score.smoke",
    }
)
SEVERAL = frozenset({"notes"})
"""What more than one column may be."""

_GUESSED = 3.0
_SENTENCE = 16
"""What people write about a cook is longer, on average, than names are."""


@dataclass(frozen=True)
class Fit:
    """A column and the variable it becomes, how well it fits, and whether its head says so."""

    column: int
    variable: str
    score: float
    by_head: bool


def suits(variable: str, looks: ColumnProfile, head: str) -> float:
    """Return how well a column's cells can be a variable: 0 not at all, 1 well."""
    if not looks.filled:
        return 0.4
    if variable in DIMENSIONS:
        return _suits_amount(variable, looks, head)
    if variable in RATINGS:
        return _suits_rating(looks)
    if variable == "cooker" and head_words(head) == "pit":
        return _share_of(looks, _COOKERS)
    if variable in TEXTS:
        return _suits_text(variable, looks)
    own = _SUITS.get(variable)
    return own(looks) if own else 0.5


def _suits_date(looks: ColumnProfile) -> float:
    serial = looks.share("number") > 0.8 and 30_000 < looks.middle < 60_000
    return max(looks.share("date"), 1.0 if serial else 0.0) ** 2


def _suits_number(looks: ColumnProfile) -> float:
    """Say how far a column can be what numbers the cooks."""
    code = re.compile(r"[A-Za-z#]*[-. ]?\d+[a-z]?")
    codes = sum(bool(code.fullmatch(cell)) for cell in looks.cells) / looks.filled
    return codes if looks.share("duration") < 0.2 and looks.share("mass") < 0.2 else 0.0


def _suits_clock(looks: ColumnProfile) -> float:
    return looks.share("date") if looks.share("date") > 0.5 else looks.share("clock")


def _suits_cut(looks: ColumnProfile) -> float:
    words_ = looks.share("number") < 0.5 and looks.share("date") < 0.5
    return 0.5 + 0.5 * looks.share("cut") if words_ else 0.0


_SUITS: Mapping[str, Callable[[ColumnProfile], float]] = {
    "date": _suits_date,
    "number": _suits_number,
    "time_on_at": _suits_clock,
    "time_off_at": _suits_clock,
    "cut": _suits_cut,
    "wrap": lambda looks: looks.share("wrap"),
}


def _suits_rating(looks: ColumnProfile) -> float:
    measured = looks.share("mass") or looks.share("temperature")
    numbers = 0.0 if measured else looks.share("number")
    return max(looks.share("rating"), numbers, 0.7 * _rating_words(looks))


def _suits_text(variable: str, looks: ColumnProfile) -> float:
    figures = max(looks.share(sort) for sort in ("number", "date", "mass", "temperature"))
    if variable in {"title", "notes"}:
        return 1.0 if figures < 0.5 else 0.05
    if figures > 0.6:
        return 0.0
    return 0.2 if looks.length > 40 and variable != "treatment" else 1.0


def _rating_words(looks: ColumnProfile) -> float:
    known = re.compile(
        r"(?:very |sehr |muy |too |pretty |so )?(?:good|great|ok|okay|bad|poor|excellent|best|meh|fair|awful|superb|gut|schlecht"
        r"|super|mittel|bien|bueno|malo|excelente|regular)[!+. -]*"
    )
    return sum(bool(known.fullmatch(plain(cell))) for cell in looks.cells) / max(1, looks.filled)


_LIKELY: Mapping[str, Mapping[str, tuple[float, float]]] = {
    "": {"set_point": (80, 700), "internal_off": (40, 220), "ambient": (-30, 115)},
    "degC": {"set_point": (55, 400), "internal_off": (35, 110), "ambient": (-35, 50)},
    "degF": {"set_point": (130, 750), "internal_off": (95, 230), "ambient": (-30, 120)},
}
"""Between what a column's middle lies, by the unit that its head names (common practice)."""


def _suits_amount(variable: str, looks: ColumnProfile, head: str) -> float:
    dimension = DIMENSIONS[variable]
    share = (
        looks.share("number") if dimension == "number" else looks.share(f"{dimension} or number")
    )
    others = ("mass", "temperature", "duration", "length", "speed")
    if any(looks.share(other) > 0.5 for other in others if other != dimension):
        return 0.0
    if looks.share("dated") > 0.7 and dimension != "number" and looks.share(dimension) < 0.3:
        return 0.0
    if dimension == "duration" and looks.share("clock") > 0.9 and looks.share("duration") < 0.5:
        return 0.0
    if dimension == "temperature" and looks.share(dimension) == 0 and looks.numbers:
        low, high = _LIKELY[unit_of_head(head, dimension)][variable]
        share *= 1.0 if low <= looks.middle <= high else 0.3
    if dimension == "mass" and not looks.share("mass") and looks.numbers and looks.middle <= 0:
        return 0.1
    return share


def fits_of(heads: Sequence[str], looks: Sequence[ColumnProfile]) -> list[Fit]:
    """Return each column's variable: the best pairs first, a variable once (but for notes)."""
    fits = [
        fit for column, head in enumerate(heads) for fit in _of_column(column, head, looks[column])
    ]
    fits += _on_beside_off(fits, looks)
    taken: dict[int, Fit] = {}
    used: set[str] = set()
    for fit in sorted(fits, key=lambda one: (-one.score, one.column)):
        if fit.column in taken or (fit.variable in used and fit.variable not in SEVERAL):
            continue
        taken[fit.column] = fit
        used.add(fit.variable)
    if "notes" not in used and (column := _remarks(heads, looks, taken)) is not None:
        taken[column] = Fit(column, "notes", _GUESSED, by_head=False)
    return [taken[column] for column in sorted(taken)]


def _remarks(
    heads: Sequence[str], looks: Sequence[ColumnProfile], taken: Mapping[int, Fit]
) -> int | None:
    """Return the column of remarks where none is called so: the longest of sentences."""
    wordy = [
        column
        for column in range(len(heads))
        if column not in taken
        and looks[column].length >= _SENTENCE
        and looks[column].share("number") < 0.3
        and looks[column].distinct >= 0.6 * looks[column].filled
        and not is_aside(heads[column])
    ]
    return max(wordy, key=lambda column: looks[column].length, default=None)


def _on_beside_off(fits: Sequence[Fit], looks: Sequence[ColumnProfile]) -> list[Fit]:
    """Return "time on" as the time of day it went on, where "time off" stands beside it."""
    sure = {fit.variable for fit in fits if fit.score >= 9.0}
    if "time_off_at" not in sure:
        return []
    begun = {fit.column for fit in fits if fit.variable == "time_on_at" and fit.score >= 9.0}
    return [
        Fit(fit.column, "time_on_at", fit.score + 0.5, by_head=True)
        for fit in fits
        if fit.variable == "time_on"
        and fit.by_head
        and begun <= {fit.column}
        and looks[fit.column].share("clock") > 0.9
    ]


def _of_column(column: int, head: str, looks: ColumnProfile) -> list[Fit]:
    fits = []
    scores = _with_role(head, looks)
    aside = is_aside(head)
    if scale_of_head(head).known and not {"rating"} & set(scores) and not aside:
        for variable in RATINGS & set(scores):
            scores[variable] += 1.0
        if not RATINGS & set(scores):
            scores["rating"] = 6.0
    for variable, score in scores.items():
        well = suits(variable, looks, head)
        if well >= 0.35:
            fits.append(Fit(column, variable, score * well, by_head=True))
    fits += _by_unit(column, head, looks)
    if _role(head, looks) == "":
        fits = [fit for fit in fits if fit.variable not in DIMENSIONS]
    fits += [
        Fit(column, variable, _GUESSED * share, by_head=False)
        for variable, share in _by_profile(looks).items()
        if share >= (0.5 if variable == "cut" else 0.7) and variable not in scores
    ]
    if not head:
        fits += _unnamed(column, looks)
    return fits


def _told_dimension(head: str, looks: ColumnProfile) -> str:
    """Return what a column is an amount of by the unit in its head or its cells; "" untold."""
    if scale_of_head(head).known or names_money(head):
        return ""
    for dimension in ONLY_A_UNIT:
        if looks.share(dimension) > 0.5 or unit_of_head(head, dimension):
            return dimension
    return ""


def _role(head: str, looks: ColumnProfile) -> str | None:
    """Return the variable that a head's words make of an amount, as `role_of` does."""
    return role_of(head, _told_dimension(head, looks))


def _with_role(head: str, looks: ColumnProfile) -> dict[str, float]:
    """Return how well a head names each variable, where its unit is known by that too."""
    scores = dict(head_scores(head))
    dimension = _told_dimension(head, looks)
    role = role_of(head, dimension)
    named = [key for key in scores if DIMENSIONS.get(key) == dimension and is_named(head, key)]
    if role is None or named:
        return scores
    kept = {
        key: score for key, score in scores.items() if key not in DIMENSIONS and key not in RATINGS
    }
    return kept | ({role: SURE - 1.0} if role else {})


_SAYS_A_UNIT = re.compile(r"[°º(\[]|\b(?:deg|mins?|hrs?|hours|std|lbs?|kg)\b", re.IGNORECASE)


def _by_unit(column: int, head: str, looks: ColumnProfile) -> list[Fit]:
    """Return what the unit in a head says, where its words name nothing that is measured."""
    found = []
    if _SAYS_A_UNIT.search(head):
        found = [(d, v) for d, v in ONLY_A_UNIT.items() if unit_of_head(head, d)]
    if not found and "cooker" in head_scores(head) and looks.share("temperature") > 0.7:
        found = [("temperature", "set_point")]
    return [
        Fit(column, variable, 5.0 * suits(variable, looks, head), by_head=True)
        for dimension, variable in found
        if suits(variable, looks, head) >= 0.7
        and not any(DIMENSIONS.get(other) == dimension for other in head_scores(head))
    ]


_WOODS = re.compile(
    r"\b(?:oak|hickory|cherry|apple|pecan|mesquite|maple|alder|peach|beech|buche|eiche|kirsche|apfel|encina|roble|mezquite|manzano|cerezo)\b"
)
_COOKERS = re.compile(
    r"\b(?:offset|drum|ceramic|pellet|gravity|kettle|bullet|cabinet|smoker|grill|kugelgrill|ahumador|parrilla)\b"
)


def _share_of(looks: ColumnProfile, pattern: re.Pattern[str]) -> float:
    """Return the share of a column's cells that a pattern is found in."""
    return sum(bool(pattern.search(plain(cell))) for cell in looks.cells) / max(1, looks.filled)


def _unnamed(column: int, looks: ColumnProfile) -> list[Fit]:
    """Return what a column without a head may be, by what cooks write down in that size."""
    if not looks.filled:
        return []
    guesses = {"wood": _share_of(looks, _WOODS), "cooker": _share_of(looks, _COOKERS)}
    if looks.share("number") >= 0.8:
        middle, most = looks.middle, max(looks.numbers)
        whole = all(number.is_integer() for number in looks.numbers)
        guesses["set_point"] = 0.9 if 215 <= middle <= 400 else 0.75 if 90 <= middle <= 180 else 0.0
        guesses["internal_off"] = 0.8 if 185 <= middle < 215 else 0.0
        guesses["rating"] = 0.8 if whole and most <= 10 else 0.6 if most <= 10 else 0.0
        guesses["mass_on"] = 0.78 if middle <= 25 and not whole else 0.6 if middle <= 25 else 0.0
        guesses["time_on"] = 0.74 if middle <= 20 else 0.5 if middle <= 1200 else 0.0
    elif looks.length > 12 and looks.share("cut") < 0.5 and looks.share("date") < 0.5:
        guesses["notes"] = 0.7
    guesses["wrap"] = looks.share("wrap")
    return [
        Fit(column, variable, _GUESSED * well, by_head=False)
        for variable, well in guesses.items()
        if well > 0.4
    ]


def _by_profile(looks: ColumnProfile) -> dict[str, float]:
    """Return what the cells alone can say: only what looks like one thing."""
    share = looks.share
    if not looks.filled:
        return {}
    return {
        "date": share("date"),
        "cut": share("cut") if share("number") < 0.1 else 0.0,
        "mass_on": share("mass"),
        "wrap": share("wrap") - share("number")
        if share("yes") < 0.6 and looks.length < 25
        else 0.0,
        "rating": share("rating") if share("yes") < 0.5 else 0.0,
        "time_on": share("duration"),
        "set_point": share("temperature"),
    }
