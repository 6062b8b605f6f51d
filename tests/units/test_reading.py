"""What a cook may type. Kitchen measures are NIST SP 811's (see `data/README.md`)."""

import math
import string
from contextlib import suppress

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pitjournal.errors import JournalError
from pitjournal.units import Dimension, UnitSystem, example, parse, show, to_display
from pitjournal.units.scales import scale

US, METRIC = UnitSystem.US, UnitSystem.METRIC
LB, OZ, CUP = 453.59237, 28.349523125, 236.5882365


@pytest.mark.parametrize(
    ("typed", "grams"),
    [
        ("3 lb 4 oz", 3.25 * LB),
        ("3lb4oz", 3.25 * LB),
        ("3 LB, 4 OZ.", 3.25 * LB),
        ("3 pounds and 4 ounces", 3.25 * LB),
        ("3 lb 4", 3.25 * LB),
        ("3 lb 4 1/2 oz", 3 * LB + 4.5 * OZ),
        ("3 1/4 lb", 3.25 * LB),
        ("3¼ lb", 3.25 * LB),
        ("3.25#", 3.25 * LB),
        ("5oz", 5 * OZ),
        ("−3 lb 4 oz", -3.25 * LB),
        ("1.5 kg", 1500),
        ("1,5 kg", 1500),
        ("1,50 kg", 1500),
        (".5 kg", 500),
        ("0,500 kg", 500),
        ("1500 g", 1500),
        ("1500g", 1500),
        ("1 500 g", 1500),
        ("1,500.5 g", 1500.5),
        ("1.500,5 g", 1500.5),
        ("1 kg 200 g", 1200),
        ("1 kilo", 1000),
        ("500 gr", 500),
        ("500\N{NO-BREAK SPACE}g", 500),
    ],
)
def test_that_weights_are_understood(typed: str, grams: float) -> None:
    for system in UnitSystem:
        assert parse(typed, Dimension.MASS, system) == pytest.approx(grams, rel=1e-12)


@pytest.mark.parametrize(
    ("typed", "celsius"),
    [
        ("225F", 107.2222222222),
        ("225 °F", 107.2222222222),
        ("225 f", 107.2222222222),
        ("225 deg F", 107.2222222222),
        ("225 degrees Fahrenheit", 107.2222222222),
        ("225 ℉", 107.2222222222),
        ("225ºF", 107.2222222222),
        ("107 °C", 107),
        ("107C", 107),
        ("107℃", 107),
        ("−18 °C", -18),
        ("-40 F", -40),
        ("-459.67 F", -273.15),
    ],
)
def test_that_temperatures_are_understood(typed: str, celsius: float) -> None:
    for system in UnitSystem:
        assert parse(typed, Dimension.TEMPERATURE, system) == pytest.approx(celsius, abs=1e-9)


@pytest.mark.parametrize(
    ("typed", "minutes"),
    [
        *(("1h40", 100), ("1:40", 100), ("1 h 40 min", 100), ("1 hour and 40 minutes", 100)),
        *(("1h40m", 100), ("100", 100), ("90 min", 90), ("90 MIN", 90), ("40m", 40)),
        *(("1.5 h", 90), ("1½ hours", 90), ("an hour", 60), ("half an hour", 30)),
        *(("1:40 h", 100), ("0:45", 45), ("1:40:30", 100.5), ("5 min 30", 5.5), ("30 s", 0.5)),
        *(("2 days", 2880), ("1 d 2 h", 1560), ("-1:40", -100), ("0 h 5 min", 5)),
    ],
)
def test_that_lengths_of_time_are_understood(typed: str, minutes: float) -> None:
    for system in UnitSystem:
        assert parse(typed, Dimension.DURATION, system) == pytest.approx(60 * minutes)


@pytest.mark.parametrize(
    ("typed", "dimension", "stored"),
    [
        ("3/4 cup", Dimension.VOLUME, 0.75 * CUP),
        ("¾ cup", Dimension.VOLUME, 0.75 * CUP),
        ("1 cup 2 tbsp", Dimension.VOLUME, 1.125 * CUP),
        ("8 fl. oz", Dimension.VOLUME, CUP),
        ("500 ML", Dimension.VOLUME, 500),
        ("1 L", Dimension.VOLUME, 1000),
        ("1 1/2 in", Dimension.LENGTH, 0.0381),
        ("1 ½ in", Dimension.LENGTH, 0.0381),
        ("1½″", Dimension.LENGTH, 0.0381),
        ("1-1/2 inches", Dimension.LENGTH, 0.0381),
        ("5' 3\"", Dimension.LENGTH, 1.6002),
        ("3.2 cm", Dimension.LENGTH, 0.032),
        ("850 feet", Dimension.ALTITUDE, 259.08),
        ("12 %", Dimension.FRACTION, 0.12),
        ("12", Dimension.FRACTION, 0.12),
        ("0.5%", Dimension.FRACTION, 0.005),
        ("0,5 per cent", Dimension.FRACTION, 0.005),
        ("200 ppm", Dimension.FRACTION, 0.0002),
        ("10 °F", Dimension.TEMPERATURE_DIFFERENCE, 50 / 9),
        ("-10F", Dimension.TEMPERATURE_DIFFERENCE, -50 / 9),
        ("2 °F in 10 min", Dimension.TEMPERATURE_RATE, 10 / 9 / 600),
        ("12 °F/h", Dimension.TEMPERATURE_RATE, 20 / 3 / 3600),
        ("-10 F an hour", Dimension.TEMPERATURE_RATE, -50 / 9 / 3600),
        ("1.5 lb/h", Dimension.MASS_RATE, 1.5 * LB / 3600),
        ("1 lb 8 oz per hour", Dimension.MASS_RATE, 1.5 * LB / 3600),
        ("1/2 kg/h", Dimension.MASS_RATE, 500 / 3600),
        ("$4.99/lb", Dimension.PRICE, 4.99 / LB),
        ("4.99 a pound", Dimension.PRICE, 4.99 / LB),
        ("10,90 € per kg", Dimension.PRICE, 0.0109),
        ("1.09 / 100 g", Dimension.PRICE, 0.0109),
        ("$42.50", Dimension.MONEY, 42.5),
        ("42,50 €", Dimension.MONEY, 42.5),
        ("10 mph", Dimension.SPEED, 4.4704),  # NIST SP 811: 0.447 04 m/s, exact
        ("36 km/h", Dimension.SPEED, 10),
        ("3 m/s", Dimension.SPEED, 3),
        ("7 points", Dimension.SCORE, 7),
        ("7½", Dimension.SCORE, 7.5),
        ("3", Dimension.COUNT, 3),
        ("½", Dimension.NUMBER, 0.5),
    ],
)
def test_that_other_quantities_are_understood(
    typed: str, dimension: Dimension, stored: float
) -> None:
    for system in UnitSystem:
        assert parse(typed, dimension, system) == pytest.approx(stored, rel=1e-12)


@pytest.mark.parametrize(
    ("dimension", "us", "metric"),
    [
        (Dimension.MASS, 3 * LB, 3000),
        (Dimension.TEMPERATURE, -145 / 9, 3),
        (Dimension.TEMPERATURE_DIFFERENCE, 5 / 3, 3),
        (Dimension.LENGTH, 0.0762, 0.003),
        (Dimension.ALTITUDE, 0.9144, 3),
        (Dimension.DURATION, 180, 180),
        (Dimension.VOLUME, 88.7205886875, 3),
        (Dimension.PRICE, 3 / LB, 0.003),
    ],
)
def test_that_a_bare_number_is_in_the_cooks_own_unit(
    dimension: Dimension, us: float, metric: float
) -> None:
    assert parse("3", dimension, US) == pytest.approx(us, rel=1e-12)
    assert parse("3", dimension, METRIC) == pytest.approx(metric, rel=1e-12)


@pytest.mark.parametrize("dimension", list(Dimension))
@pytest.mark.parametrize("system", list(UnitSystem))
@pytest.mark.parametrize(
    "typed",
    [
        *(
            "",
            "  ",
            "-",
            "nan",
            "inf",
            "-inf",
            "1e3",
            "1e999",
            "9" * 400,
            "9" * 400 + "/3",
            "9" * 5000 + "/3",
            "not recorded",
            "²",
        ),
        *("three", "1/0", "3 4", "5-6", "1..5", "1,2,3", "--3", "3 kg kg", "3 kg^1", "3 * 4"),
        *("__import__('os')", "3 __class__", "3 furlong fortnight", "3 lb lb", "4 oz 3 lb"),
        *("3 lb 40 oz", "3 lb.5 oz", "3 lb -4 oz", "1 h 90 min", "1:99", "5 kg 3 °F", "7 wombats"),
    ],
)
def test_that_nonsense_is_refused_with_an_example(
    typed: str, dimension: Dimension, system: UnitSystem
) -> None:
    with pytest.raises(JournalError) as refused:
        parse(typed, dimension, system)
    assert refused.value.hint == f"Try {example(dimension, system)}."


@pytest.mark.parametrize(
    ("typed", "dimension", "words"),
    [
        ("3 lb", Dimension.TEMPERATURE, "“lb” is for a weight, not a temperature."),
        ("225 F", Dimension.MASS, "“f” is for a temperature, not a weight."),
        ("8 oz", Dimension.VOLUME, "“oz” is for a weight, not a volume."),
        ("5 min", Dimension.LENGTH, "“min” is for a length of time, not a length."),
        ("5 %", Dimension.MASS, "“%” is for a percentage, not a weight."),
        ("5 rad", Dimension.FRACTION, "“5 rad” is not a percentage."),
        ("7 kg", Dimension.SCORE, "“7 kg” is not a score."),
        ("5 lb", Dimension.MASS_RATE, "“5 lb” is not a weight per hour."),
        ("8 per hour", Dimension.SPEED, "“8 per hour” is not a speed."),
        ("2.5", Dimension.COUNT, "“2.5” is not a whole number."),
        ("-500 °F", Dimension.TEMPERATURE, "“-500 °F” is not a temperature."),
        ("7 wombats", Dimension.MASS, "“wombats” is not a unit known here."),
        ("", Dimension.MASS, "An empty field is not a weight."),
    ],
)
def test_that_a_wrong_unit_is_named(typed: str, dimension: Dimension, words: str) -> None:
    with pytest.raises(JournalError) as refused:
        parse(typed, dimension, US)
    assert refused.value.message == words


@pytest.mark.parametrize("dimension", list(Dimension))
@pytest.mark.parametrize(
    "typed",
    ["9" * 17, "9" * 400, "9" * 5000, f"{'9' * 400}/2", f"1 {'0' * 400}/3", "9" * 320 + ".5"],
)
def test_that_no_number_of_however_many_digits_is_one_without_end(
    typed: str, dimension: Dimension
) -> None:
    for words in (typed, f"{typed} lb", f"{typed} °F", f"{typed}:10"):
        with suppress(JournalError):
            assert math.isfinite(parse(words, dimension, US))


def test_that_a_comma_which_can_be_two_things_is_asked_about() -> None:
    with pytest.raises(JournalError, match=r"“1,500” can be two numbers. Write 1500 or 1.500."):
        parse("1,500 g", Dimension.MASS, METRIC)


_SPAN = {
    Dimension.TEMPERATURE: st.floats(-273.15, 1000),
    Dimension.COUNT: st.integers(-1000, 1000).map(float),
    Dimension.DURATION: st.floats(-1e6, 1e6),
}


@settings(deadline=None)  # the first unit loads Pint; machines are shared
@given(st.data(), st.sampled_from(Dimension), st.sampled_from(UnitSystem), st.booleans())
def test_that_what_is_shown_is_read_back_to_the_shown_digits(
    data: st.DataObject, dimension: Dimension, system: UnitSystem, signed: bool
) -> None:
    shown = scale(dimension, system)
    stored = data.draw(_SPAN.get(dimension, st.floats(-1e4, 1e4).map(lambda x: x / shown.factor)))
    # Half of the last digit that is shown; ounces, litres and gallons have their own.
    finest = 0.5 * 10.0**-shown.digits
    in_words = {
        (Dimension.MASS, US): 0.05 / 16,
        (Dimension.VOLUME, US): 0.05,
        (Dimension.VOLUME, METRIC): 5.0,
    }
    number = to_display(stored, dimension, system)
    for with_unit in (True, False):
        text = show(stored, dimension, system, with_unit=with_unit, signed=signed)
        tolerance = in_words.get((dimension, system), finest) if with_unit else finest
        if dimension is Dimension.VOLUME and system is US and with_unit and abs(number) >= 127.9:
            tolerance = 0.64  # half of a hundredth of a gallon, in fluid ounces
        try:
            read = to_display(parse(text, dimension, system), dimension, system)
        except JournalError:
            assert dimension is Dimension.TEMPERATURE
            assert stored < -273
        else:
            assert math.isclose(read, number, rel_tol=1e-9, abs_tol=tolerance * (1 + 1e-6))


@settings(deadline=None)  # the first unit loads Pint; machines are shared
@given(
    st.text(st.sampled_from(string.digits + "lboz kghmincF°%/.,:½-$\"'"), max_size=12) | st.text(),
    st.sampled_from(Dimension),
    st.sampled_from(UnitSystem),
)
def test_that_no_text_is_more_than_refused(
    text: str, dimension: Dimension, system: UnitSystem
) -> None:
    try:
        value = parse(text, dimension, system)
    except JournalError as refused:
        assert refused.hint  # noqa: PT017 - either outcome is right
    else:
        assert math.isfinite(value)
