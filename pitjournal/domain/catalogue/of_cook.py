"""The variables of a cook: when, where, with what, and how its fire and its pit went."""

from collections.abc import Iterator

from pitjournal.domain.catalogue.variable import FROM_TRACE, Family, Kind, Level, Origin, Variable
from pitjournal.domain.cook import CookKind
from pitjournal.domain.shelf import COOKER_CLASSES
from pitjournal.units import Dimension

LEVEL = Level.COOK


def of_cook() -> Iterator[Variable]:
    """Make the variables of a cook, in the order they are listed."""
    yield from _recorded()
    yield from _equipment()
    yield from _fire()
    yield from _pit()
    yield from _kept()


def _recorded() -> Iterator[Variable]:
    for key, label, kind, choices, families in (
        ("date", "date", Kind.TIME, (), ()),
        ("kind", "kind of cook", Kind.CHOICE, tuple(CookKind), (Family.OCCASION,)),
        ("place", "place", Kind.CHOICE, (), (Family.OCCASION,)),
        ("weather", "weather", Kind.CHOICE, (), ()),
        ("water_pan", "water pan", Kind.YES_NO, (), ()),
    ):
        yield Variable(
            key=key,
            label=label,
            level=LEVEL,
            kind=kind,
            field="starts_at" if key == "date" else key,
            choices=choices,
            families=families,
        )
    for key, label, dimension, families in (
        ("set_point", "set point", Dimension.TEMPERATURE, (Family.PIT,)),
        ("altitude", "altitude", Dimension.ALTITUDE, ()),
        ("ambient", "outside temperature", Dimension.TEMPERATURE, ()),
        ("wind", "wind", Dimension.SPEED, ()),
        ("humidity", "humidity", Dimension.FRACTION, ()),
        ("cost", "cost", Dimension.MONEY, (Family.MONEY,)),
    ):
        yield Variable(
            key=key,
            label=label,
            level=LEVEL,
            dimension=dimension,
            field=key,
            outcome=key == "cost",
            families=families,
        )


def _equipment() -> Iterator[Variable]:
    for key, label, choices, families in (
        ("cooker", "cooker", (), (Family.COOKER,)),
        ("cooker_class", "class of cooker", COOKER_CLASSES, (Family.COOKER,)),
        ("fuel", "fuel", (), ()),
        ("wood", "wood", (), ()),
    ):
        yield Variable(
            key=key,
            label=label,
            level=LEVEL,
            kind=Kind.CHOICE,
            origin=Origin.DERIVED,
            choices=choices,
            families=families,
        )


def _fire() -> Iterator[Variable]:
    pace, fuel, day = Family.PACE, Family.FUEL, Family.DAY
    for key, label, dimension, families, words in (
        ("fuel_used", "fuel used", Dimension.MASS, (pace, fuel), "in + added − reusable left"),
        (
            "fuel_rate",
            "fuel per hour",
            Dimension.MASS_RATE,
            (fuel,),
            "fuel used ÷ time from lit to last off",
        ),
        (
            "fuel_per_meat",
            "fuel per weight of meat",
            Dimension.NUMBER,
            (fuel,),
            "fuel used ÷ meat on",
        ),
        ("cook_time", "lit to last off", Dimension.DURATION, (pace, fuel, day), ""),
    ):
        yield Variable(
            key=key,
            label=label,
            level=LEVEL,
            dimension=dimension,
            origin=Origin.DERIVED,
            help=words,
            outcome=True,
            families=families,
        )


def _pit() -> Iterator[Variable]:
    pit = (Family.PIT,)
    for key, label, dimension, outcome, families, words in (
        (
            "pit_mean",
            "pit temperature",
            Dimension.TEMPERATURE,
            False,
            pit,
            "mean of the pit while meat is on, lid recoveries left out",
        ),
        (
            "pit_spread",
            "pit spread",
            Dimension.TEMPERATURE_DIFFERENCE,
            False,
            pit,
            "standard deviation of the pit while meat is on",
        ),
        (
            "pit_outside",
            "pit outside its band",
            Dimension.DURATION,
            True,
            pit,
            "time more than 15 °F (8.3 °C) from the set point while meat is on",
        ),
        ("lid_openings", "lid openings", Dimension.COUNT, True, (), ""),
        (
            "lid_seen",
            "lid openings seen",
            Dimension.COUNT,
            True,
            (),
            "sharp dips of the pit while meat is on",
        ),
        (
            "lid_matched",
            "lid openings seen, also logged",
            Dimension.COUNT,
            True,
            (),
            "dips within 90 s of what was logged",
        ),
    ):
        yield Variable(
            key=key,
            label=label,
            level=LEVEL,
            dimension=dimension,
            origin=Origin.DERIVED,
            help=words,
            outcome=outcome,
            families=families,
            formula=1 if key == "lid_openings" else FROM_TRACE,
        )


def _kept() -> Iterator[Variable]:
    for key, label, kind, words in (
        ("probe_chart", "probe chart", Kind.YES_NO, "whether a probe's readings are kept"),
        (
            "brought",
            "brought along",
            Kind.YES_NO,
            "from a table of old cooks; its times and scores are as that table has them",
        ),
        ("text", "text", Kind.WORDS, "words of titles, questions and notes"),
    ):
        yield Variable(
            key=key, label=label, level=LEVEL, kind=kind, origin=Origin.DERIVED, help=words
        )
