"""The variables of an arm and of a piece: what it was, what was done to it, what came of it."""

from collections.abc import Iterator

from pitjournal.domain.catalogue.variable import FROM_MEAT, Family, Kind, Level, Origin, Variable
from pitjournal.domain.cuts import cut_names
from pitjournal.domain.event import WRAPS
from pitjournal.domain.piece import Stage
from pitjournal.domain.treatment import TreatmentKind
from pitjournal.units import Dimension


def of_arm() -> Iterator[Variable]:
    """Make the variables of an arm, in the order they are listed."""
    treatment, wrapping = Family.TREATMENT, Family.WRAPPING
    for key, label, choices, families, words in (
        ("arm", "arm", (), (treatment, wrapping), "the arm's name"),
        ("treatment", "treatment", tuple(TreatmentKind), (treatment,), ""),
        ("rub", "rub", (), (), "the first layer"),
        ("wrap", "wrap", ("none", *WRAPS), (wrapping,), "none: on and off without a wrap"),
    ):
        yield Variable(
            key=key,
            label=label,
            level=Level.ARM,
            kind=Kind.CHOICE,
            origin=Origin.DERIVED,
            choices=choices,
            help=words,
            families=families,
        )
    yield Variable(
        key="control",
        label="control",
        level=Level.ARM,
        kind=Kind.YES_NO,
        origin=Origin.DERIVED,
        families=(treatment, wrapping),
    )
    yield Variable(
        key="non_intact",
        label="non-intact",
        level=Level.ARM,
        kind=Kind.YES_NO,
        origin=Origin.DERIVED,
        help="by any treatment, the label, or words of the cut, the arm, a note, the log or the title",
        families=(treatment,),
        formula=5,
    )


def of_piece() -> Iterator[Variable]:
    """Make the variables of a piece, in the order they are listed."""
    yield from _recorded()
    yield from _weights()
    yield Variable(
        key="stall_ended",
        label="stall ended",
        level=Level.PIECE,
        kind=Kind.YES_NO,
        origin=Origin.DERIVED,
        help="no: the meat came off in it, so that its length is a least one",
        outcome=True,
        families=(Family.PACE,),
        formula=FROM_MEAT,
    )
    yield from _by_scale()
    yield from _by_log()
    yield from _by_trace()
    yield _derived(
        "cost_per_edible",
        "cost of edible meat",
        Dimension.PRICE,
        "price × bought ÷ edible",
        outcome=True,
        families=(Family.LOSS, Family.MONEY),
    )
    yield from _by_judges()


def _by_judges() -> Iterator[Variable]:
    """Make what came of the category of a contest in which the piece was turned in."""
    for key, label, words in (
        ("contest", "contest", "the contest's name"),
        ("contest_category", "category", "of a contest"),
        ("contest_carried", "carried from practice", "what was found there and done again"),
    ):
        yield Variable(
            key=key,
            label=label,
            level=Level.PIECE,
            kind=Kind.CHOICE,
            origin=Origin.DERIVED,
            help=words,
            families=(Family.OCCASION,),
        )
    score = (Family.SCORE,)
    for key, label, dimension, words, families in (
        ("contest_total", "contest total", Dimension.SCORE, "by the cards, else announced", score),
        ("contest_place", "contest place", Dimension.COUNT, "announced, or by all totals", score),
        (
            "field_beaten",
            "share of the field beaten",
            Dimension.FRACTION,
            "those placed behind ÷ all others: 100 % is a win",
            score,
        ),
        (
            "card_spread",
            "card spread",
            Dimension.SCORE,
            "standard deviation between the judges' weighted cards",
            (),
        ),
    ):
        yield _derived(key, label, dimension, words, outcome=True, families=families)


def _recorded() -> Iterator[Variable]:
    level = Level.PIECE
    source = (Family.SOURCE,)
    for key, label, choices, families in (
        ("cut", "cut", cut_names(), ()),
        ("grade", "grade", (), ()),
        ("supplier", "supplier", (), source),
        ("lot", "lot", (), source),
        ("pack", "pack", (), source),
        ("animal", "animal", (), source),
        ("side", "side", ("left", "right"), ()),
        ("end", "end", ("front", "back"), ()),
        ("slot", "slot", (), ()),
    ):
        yield Variable(
            key=key,
            label=label,
            level=level,
            kind=Kind.CHOICE,
            field=key,
            choices=choices,
            families=families,
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
        key="price",
        label="price",
        level=level,
        dimension=Dimension.PRICE,
        field="price",
        families=(Family.MONEY,),
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


_WEIGHED: dict[Stage, tuple[bool, tuple[Family, ...]]] = {
    Stage.BOUGHT: (False, (Family.TRIMMING,)),
    Stage.TRIMMED: (False, (Family.TRIMMING,)),
    Stage.WRAPPED: (True, (Family.WRAPPING,)),
    Stage.OFF: (True, (Family.LOSS,)),
    Stage.RESTED: (True, (Family.LOSS,)),
    Stage.EDIBLE: (True, (Family.LOSS,)),
}
"""Which weights come of the cook, and what they say beside a weight."""


def _weights() -> Iterator[Variable]:
    for stage in Stage:
        outcome, more = _WEIGHED.get(stage, (False, ()))
        yield Variable(
            key=f"mass_{stage}",
            label=f"weight {stage}",
            level=Level.PIECE,
            dimension=Dimension.MASS,
            origin=Origin.DERIVED,
            ledger=stage is Stage.TRIMMED or stage is Stage.ON,
            outcome=outcome,
            families=(Family.WEIGHT, *more),
        )


def _derived(
    key: str,
    label: str,
    dimension: Dimension,
    words: str = "",
    *,
    ledger: bool = False,
    outcome: bool = False,
    families: tuple[Family, ...] = (),
    formula: int = 1,
) -> Variable:
    return Variable(
        key=key,
        label=label,
        level=Level.PIECE,
        dimension=dimension,
        origin=Origin.DERIVED,
        ledger=ledger,
        help=words,
        outcome=outcome,
        families=families,
        formula=formula,
    )


def _by_scale() -> Iterator[Variable]:
    share, treatment = Dimension.FRACTION, (Family.TREATMENT,)
    for key, label, words, outcome, families in (
        ("pickup", "pickup", "(treated − trimmed) ÷ trimmed", False, treatment),
        ("trim_loss", "trimmed away", "(bought − trimmed) ÷ bought", False, (Family.TRIMMING,)),
        ("yield_off", "yield", "off ÷ trimmed", True, (Family.LOSS,)),
        ("yield_edible", "edible yield", "edible ÷ bought", True, (Family.LOSS,)),
        ("cook_loss", "cooking loss", "(on − off) ÷ on", True, (Family.LOSS,)),
        ("salt_in_meat", "salt in the meat", "of the treated weight", False, treatment),
        ("phosphate_in_meat", "phosphate in the meat", "of the treated weight", False, treatment),
    ):
        formula = 2 if key in {"yield_off", "yield_edible"} else 1  # none where a weight grew
        yield _derived(
            key, label, share, words, outcome=outcome, families=families, formula=formula
        )


def _by_log() -> Iterator[Variable]:
    time, done = Dimension.DURATION, (Family.DONENESS,)
    pace, wrapping = Family.PACE, Family.WRAPPING
    yield _derived(
        "time_on",
        "time on",
        time,
        "on to off",
        ledger=True,
        outcome=True,
        families=(pace, Family.HEATING, Family.DAY),
    )
    yield _derived("time_to_wrap", "on to wrap", time, families=(wrapping,))
    yield _derived(
        "time_wrapped", "time wrapped", time, "wrap to unwrap or off", families=(pace, wrapping)
    )
    yield _derived(
        "time_rested",
        "time rested",
        time,
        "off to sliced or boxed",
        ledger=True,
        families=(Family.DAY,),
    )
    yield _derived("spritzes", "spritzes", Dimension.COUNT, outcome=True)
    yield _derived(
        "internal_off",
        "internal when off",
        Dimension.TEMPERATURE,
        "last probe before off",
        ledger=True,
        families=(Family.HEATING, *done),
    )
    yield _derived(
        "feel_off",
        "feel when off",
        Dimension.SCORE,
        "last feel before off, 1 to 7",
        ledger=True,
        families=done,
    )
    for key, label, words in (
        ("leeway_at_least", "right for at least", "last right − first right"),
        ("leeway_at_most", "right for at most", "first over − last under"),
    ):
        yield _derived(key, label, time, words, outcome=True, families=(Family.LEEWAY,))


def _by_trace() -> Iterator[Variable]:
    time, pace, heating = Dimension.DURATION, Family.PACE, Family.HEATING
    by_trace = "by the meat's trace"
    for key, label, dimension, words, families in (
        ("to_60", "on to 60 °C (140 °F)", time, by_trace, (pace, heating)),
        ("to_71", "on to 71 °C (160 °F)", time, by_trace, (pace, heating)),
        ("to_90", "on to 90 °C (194 °F)", time, by_trace, (pace, heating)),
        ("stall_start", "on to the stall", time, by_trace, (pace,)),
        ("stall_length", "length of the stall", time, by_trace, (pace,)),
        ("stall_level", "level of the stall", Dimension.TEMPERATURE, by_trace, ()),
        (
            "rise_rate",
            "rise before off",
            Dimension.TEMPERATURE_RATE,
            "over the last 30 min before off",
            (),
        ),
        (
            "carry_over",
            "carry-over",
            Dimension.TEMPERATURE_DIFFERENCE,
            "peak of the hour after off − at off",
            (),
        ),
        (
            "time_4_60",
            "time at 4 to 60 °C (40 to 140 °F)",
            time,
            "on to off, by the meat's trace",
            (heating,),
        ),
        (
            "lethality",
            "lethality at 70 °C (158 °F; z 10 °F)",
            time,
            "time at 70 °C (158 °F) that killed as much, z 10 °F; by the meat's trace from on to off",
            (heating,),
        ),
        (
            "cook_value",
            "cook value at 100 °C (212 °F; z 33 °C)",
            time,
            "time at 100 °C (212 °F) that did as much, z 33 °C; by the meat's trace from on to off",
            (heating,),
        ),
    ):
        yield _derived(
            key, label, dimension, words, outcome=True, families=families, formula=FROM_MEAT
        )
