"""The variable catalogue: each variable is described here once, and read everywhere.

Forms, Trends, CSV columns, filters, units and the ledger of differences all read it.
Adding a variable is one entry here (and, when it is derived, one line in `analysis.derived`).
"""

import hashlib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import ClassVar

from pitjournal.domain.cook import CookKind
from pitjournal.domain.cuts import cut_names
from pitjournal.domain.event import WRAPS
from pitjournal.domain.piece import Stage
from pitjournal.domain.scheme import PLAIN, Scored
from pitjournal.domain.shelf import COOKER_CLASSES, OwnVariable
from pitjournal.domain.tasting import HOME_PANEL
from pitjournal.domain.treatment import TreatmentKind
from pitjournal.units import Dimension


class Level(StrEnum):
    """What a variable is a property of."""

    COOK = "cook"
    ARM = "arm"
    PIECE = "piece"
    TASTING = "tasting"


class Kind(StrEnum):
    """What sort of value it has."""

    NUMBER = "number"
    CHOICE = "choice"
    YES_NO = "yes/no"
    TIME = "time"
    TEXT = "text"
    WORDS = "words"
    """What is searched for words: it chooses cooks, and is no value of its own."""


class Origin(StrEnum):
    """Where its value comes from."""

    RECORDED = "recorded"
    DERIVED = "derived"
    OWN = "own"


@dataclass(frozen=True, kw_only=True)
class Variable:
    """One variable.

    `field` names the field of the level's record that holds a recorded value; numbers are in
    the storage unit of `dimension`. `measure` says that Trends may show it; `ledger` that it
    belongs among the differences that a comparison should be read beside. A score has the
    `criterion` it is of and the `ends` of its scale. `formula` is the version of how a derived one
    is worked out: whoever changes that raises it, and every journal works its cooks out anew.
    """

    key: str
    label: str
    level: Level
    kind: Kind = Kind.NUMBER
    dimension: Dimension = Dimension.NUMBER
    origin: Origin = Origin.RECORDED
    field: str = ""
    choices: tuple[str, ...] = ()
    ledger: bool = False
    help: str = ""
    criterion: str = ""
    ends: tuple[float, float] | None = None
    formula: int = 1

    @property
    def measure(self) -> bool:
        """Whether a mean or a share of it says something."""
        return self.kind in {Kind.NUMBER, Kind.YES_NO}


FROM_TRACE = 2
"""The version of what is read from a trace: a span that is left out holds its last reading."""


def _cook() -> Iterator[Variable]:
    level = Level.COOK
    yield Variable(key="date", label="date", level=level, kind=Kind.TIME, field="starts_at")
    yield Variable(
        key="kind",
        label="kind of cook",
        level=level,
        kind=Kind.CHOICE,
        field="kind",
        choices=tuple(CookKind),
    )
    yield Variable(key="place", label="place", level=level, kind=Kind.CHOICE, field="place")
    yield Variable(key="weather", label="weather", level=level, kind=Kind.CHOICE, field="weather")
    yield Variable(
        key="water_pan", label="water pan", level=level, kind=Kind.YES_NO, field="water_pan"
    )
    for key, label, dimension in (
        ("set_point", "set point", Dimension.TEMPERATURE),
        ("altitude", "altitude", Dimension.ALTITUDE),
        ("ambient", "outside temperature", Dimension.TEMPERATURE),
        ("wind", "wind", Dimension.SPEED),
        ("humidity", "humidity", Dimension.FRACTION),
        ("cost", "cost", Dimension.MONEY),
    ):
        yield Variable(key=key, label=label, level=level, dimension=dimension, field=key)
    for key, label, choices in (
        ("cooker", "cooker", ()),
        ("cooker_class", "class of cooker", COOKER_CLASSES),
        ("fuel", "fuel", ()),
        ("wood", "wood", ()),
    ):
        yield Variable(
            key=key,
            label=label,
            level=level,
            kind=Kind.CHOICE,
            origin=Origin.DERIVED,
            choices=choices,
        )
    for key, label, dimension, words in (
        ("fuel_used", "fuel used", Dimension.MASS, "in + added − reusable left"),
        (
            "fuel_rate",
            "fuel per hour",
            Dimension.MASS_RATE,
            "fuel used ÷ time from lit to last off",
        ),
        ("fuel_per_meat", "fuel per weight of meat", Dimension.NUMBER, "fuel used ÷ meat on"),
        ("cook_time", "lit to last off", Dimension.DURATION, ""),
        (
            "pit_mean",
            "pit temperature",
            Dimension.TEMPERATURE,
            "mean of the pit while meat is on, lid recoveries left out",
        ),
        (
            "pit_spread",
            "pit spread",
            Dimension.TEMPERATURE_DIFFERENCE,
            "standard deviation of the pit while meat is on",
        ),
        (
            "pit_outside",
            "pit outside its band",
            Dimension.DURATION,
            "time more than 15 °F (8.3 °C) from the set point while meat is on",
        ),
        ("lid_openings", "lid openings", Dimension.COUNT, ""),
        (
            "lid_seen",
            "lid openings seen",
            Dimension.COUNT,
            "sharp dips of the pit while meat is on",
        ),
        (
            "lid_matched",
            "lid openings seen, also logged",
            Dimension.COUNT,
            "dips within 90 s of what was logged",
        ),
    ):
        yield Variable(
            key=key,
            label=label,
            level=level,
            dimension=dimension,
            origin=Origin.DERIVED,
            help=words,
            formula=FROM_TRACE if key.startswith(("pit_", "lid_seen", "lid_matched")) else 1,
        )


def _found() -> Iterator[Variable]:
    level, origin = Level.COOK, Origin.DERIVED
    yield Variable(
        key="probe_chart",
        label="probe chart",
        level=level,
        kind=Kind.YES_NO,
        origin=origin,
        help="whether a probe's readings are kept",
    )
    yield Variable(
        key="brought",
        label="brought along",
        level=level,
        kind=Kind.YES_NO,
        origin=origin,
        help="from a table of old cooks; its times and scores are as that table has them",
    )
    yield Variable(
        key="text",
        label="text",
        level=level,
        kind=Kind.WORDS,
        origin=origin,
        help="words of titles, questions and notes",
    )


def _arm() -> Iterator[Variable]:
    for key, label, choices, words in (
        ("arm", "arm", (), "the arm's name"),
        ("treatment", "treatment", tuple(TreatmentKind), ""),
        ("rub", "rub", (), "the first layer"),
        ("wrap", "wrap", ("none", *WRAPS), "none: on and off without a wrap"),
    ):
        yield Variable(
            key=key,
            label=label,
            level=Level.ARM,
            kind=Kind.CHOICE,
            origin=Origin.DERIVED,
            choices=choices,
            help=words,
        )
    yield Variable(
        key="control",
        label="control",
        level=Level.ARM,
        kind=Kind.YES_NO,
        origin=Origin.DERIVED,
    )
    yield Variable(
        key="non_intact",
        label="non-intact",
        level=Level.ARM,
        kind=Kind.YES_NO,
        origin=Origin.DERIVED,
        help="by any treatment, the label, or the name of the cut or the arm",
        formula=2,
    )


def _piece_recorded() -> Iterator[Variable]:
    level = Level.PIECE
    for key, label, choices in (
        ("cut", "cut", cut_names()),
        ("grade", "grade", ()),
        ("supplier", "supplier", ()),
        ("lot", "lot", ()),
        ("pack", "pack", ()),
        ("animal", "animal", ()),
        ("side", "side", ("left", "right")),
        ("end", "end", ("front", "back")),
        ("slot", "slot", ()),
    ):
        yield Variable(
            key=key, label=label, level=level, kind=Kind.CHOICE, field=key, choices=choices
        )
    yield Variable(key="frozen", label="frozen", level=level, kind=Kind.YES_NO, field="frozen")
    yield Variable(
        key="declared_solution",
        label="solution on the label",
        level=level,
        dimension=Dimension.FRACTION,
        field="declared_solution",
        ledger=True,
    )
    yield Variable(
        key="price", label="price", level=level, dimension=Dimension.PRICE, field="price"
    )
    yield Variable(
        key="thickness",
        label="thickness",
        level=level,
        dimension=Dimension.LENGTH,
        field="thickness",
        ledger=True,
        help="mean of the points measured",
    )


def _piece_masses() -> Iterator[Variable]:
    for stage in Stage:
        yield Variable(
            key=f"mass_{stage}",
            label=f"weight {stage}",
            level=Level.PIECE,
            dimension=Dimension.MASS,
            origin=Origin.DERIVED,
            ledger=stage is Stage.TRIMMED or stage is Stage.ON,
        )


_BY_TRACE = frozenset(
    {"to_60", "to_71", "to_90", "stall_start", "stall_length", "stall_level"}
    | {"rise_rate", "carry_over", "time_4_60", "lethality", "cook_value"}
)

_PIECE_DERIVED: tuple[tuple[str, str, Dimension, bool, str], ...] = (
    ("pickup", "pickup", Dimension.FRACTION, False, "(treated − trimmed) ÷ trimmed"),
    ("trim_loss", "trimmed away", Dimension.FRACTION, False, "(bought − trimmed) ÷ bought"),
    ("yield_off", "yield", Dimension.FRACTION, False, "off ÷ trimmed"),
    ("yield_edible", "edible yield", Dimension.FRACTION, False, "edible ÷ bought"),
    ("cook_loss", "cooking loss", Dimension.FRACTION, False, "(on − off) ÷ on"),
    ("salt_in_meat", "salt in the meat", Dimension.FRACTION, False, "of the treated weight"),
    (
        "phosphate_in_meat",
        "phosphate in the meat",
        Dimension.FRACTION,
        False,
        "of the treated weight",
    ),
    ("time_on", "time on", Dimension.DURATION, True, "on to off"),
    ("time_to_wrap", "on to wrap", Dimension.DURATION, False, ""),
    ("time_wrapped", "time wrapped", Dimension.DURATION, False, "wrap to unwrap or off"),
    ("time_rested", "time rested", Dimension.DURATION, True, "off to sliced, boxed or tasted"),
    ("spritzes", "spritzes", Dimension.COUNT, False, ""),
    ("internal_off", "internal when off", Dimension.TEMPERATURE, True, "last probe before off"),
    ("feel_off", "feel when off", Dimension.SCORE, True, "last feel before off, 1 to 7"),
    (
        "leeway_at_least",
        "right for at least",
        Dimension.DURATION,
        False,
        "last right − first right",
    ),
    ("leeway_at_most", "right for at most", Dimension.DURATION, False, "first over − last under"),
    ("to_60", "on to 60 °C (140 °F)", Dimension.DURATION, False, "by the meat's trace"),
    ("to_71", "on to 71 °C (160 °F)", Dimension.DURATION, False, "by the meat's trace"),
    ("to_90", "on to 90 °C (194 °F)", Dimension.DURATION, False, "by the meat's trace"),
    ("stall_start", "on to the stall", Dimension.DURATION, False, "by the meat's trace"),
    ("stall_length", "length of the stall", Dimension.DURATION, False, "by the meat's trace"),
    ("stall_level", "level of the stall", Dimension.TEMPERATURE, False, "by the meat's trace"),
    (
        "rise_rate",
        "rise before off",
        Dimension.TEMPERATURE_RATE,
        False,
        "over the last 30 min before off",
    ),
    (
        "carry_over",
        "carry-over",
        Dimension.TEMPERATURE_DIFFERENCE,
        False,
        "peak of the hour after off − at off",
    ),
    (
        "time_4_60",
        "time at 4 to 60 °C (40 to 140 °F)",
        Dimension.DURATION,
        False,
        "on to off, by the meat's trace",
    ),
    (
        "lethality",
        "lethality",
        Dimension.DURATION,
        False,
        "time at 70 °C (158 °F) that did as much, z 10 °F; on to off",
    ),
    (
        "cook_value",
        "cook value",
        Dimension.DURATION,
        False,
        "time at 100 °C (212 °F) that did as much, z 33 °C; on to off",
    ),
    ("cost_per_edible", "cost of edible meat", Dimension.PRICE, False, "price × bought ÷ edible"),
)


def _piece_derived() -> Iterator[Variable]:
    yield Variable(
        key="stall_ended",
        label="stall ended",
        level=Level.PIECE,
        kind=Kind.YES_NO,
        origin=Origin.DERIVED,
        help="no: the meat came off in it, so that its length is a least one",
        formula=FROM_TRACE,
    )
    for key, label, dimension, ledger, words in _PIECE_DERIVED:
        yield Variable(
            key=key,
            label=label,
            level=Level.PIECE,
            dimension=dimension,
            origin=Origin.DERIVED,
            ledger=ledger,
            help=words,
            formula=FROM_TRACE if key in _BY_TRACE else 1,
        )


def score_variable(scored: Scored) -> Variable:
    """Return the variable of what is scored in a tasting."""
    return Variable(
        key=f"score.{scored.name}",
        label=scored.name,
        level=Level.TASTING,
        dimension=Dimension.SCORE,
        origin=Origin.DERIVED,
        help="mean of the tasters for each piece; their levels set even where each met only some",
        criterion=scored.criterion,
        ends=scored.ends,
    )


def own_variable(own: OwnVariable) -> Variable:
    """Return the catalogue entry of a variable of the cook's own."""
    return Variable(
        key=f"own.{own.id}",
        label=own.name,
        level=Level(own.level),
        kind=Kind(own.kind),
        dimension=Dimension(own.dimension),
        origin=Origin.OWN,
        choices=own.choices,
    )


class Catalogue(Mapping[str, Variable]):
    """The variables of a journal by key: the built-in ones, what it scores, the cook's own."""

    BUILT_IN: ClassVar[tuple[Variable, ...]] = (
        *_cook(),
        *_found(),
        *_arm(),
        *_piece_recorded(),
        *_piece_masses(),
        *_piece_derived(),
    )

    def __init__(self, scored: Iterable[Scored] = (), own: Iterable[OwnVariable] = ()) -> None:
        scores = {name: Scored(name, name, PLAIN) for name in HOME_PANEL}
        for one in scored:
            scores.setdefault(one.name, one)
        variables = (
            *self.BUILT_IN,
            *(score_variable(one) for one in scores.values()),
            *(own_variable(variable) for variable in own),
        )
        self._by_key = {variable.key: variable for variable in variables}

    def __getitem__(self, key: str) -> Variable:
        return self._by_key[key]

    def __iter__(self) -> Iterator[str]:
        return iter(self._by_key)

    def __len__(self) -> int:
        return len(self._by_key)

    def named(self, words: str) -> Variable | None:
        """Return the variable with this key or label, in any case; None if there is none."""
        wanted = words.strip().casefold()
        for variable in self.values():
            if wanted in {variable.key.casefold(), variable.label.casefold()}:
                return variable
        spelled = wanted.replace("_", " ")
        return next((v for v in self.values() if v.label.casefold() == spelled), None)


SCORES_FORMULA = 2
"""The version of how scores and the cook's own variables are worked out of what was given."""


def formulas() -> int:
    """Return a number for all formulas of this program, 1 to 2³¹ − 1, the same on every machine.

    It changes with each derived variable that is new, gone, or has another version.
    """
    derived = sorted(
        (variable.key, variable.formula)
        for variable in Catalogue.BUILT_IN
        if variable.origin is Origin.DERIVED or variable.kind is not Kind.WORDS
    )
    told = repr((derived, SCORES_FORMULA)).encode()
    return max(1, int.from_bytes(hashlib.sha256(told).digest()[:4]) & 0x7FFF_FFFF)
