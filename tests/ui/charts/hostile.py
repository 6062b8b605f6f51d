"""Numbers that no cook means and every journal holds one day."""

from math import inf, nan, nextafter

from hypothesis import strategies as st

ONE_HEAT = nextafter(250.0, 0.0)
"""A set point of 250 °F kept in kelvin and shown again: a rounding below it."""

RANGES: dict[str, tuple[float, ...]] = {
    "empty": (),
    "one": (6.5,),
    "equal": (250.0, 250.0, 250.0),
    "one rounding apart": (ONE_HEAT, 250.0, ONE_HEAT, 250.0),
    "one rounding above zero": (0.0, 5e-324, 0.0),
    "denormal": (1e-310, 2e-310, 5e-310),
    "tiny": (1e-12, 2e-12, 9e-12),
    "huge": (-1e12, 3.0, 1e12),
    "huge and close": (1e12, 1e12 + 1, 1e12 + 2),
    "one far away": (*(6.0 + n / 1000 for n in range(40)), 1e12),
    "no number": (nan, 6.0, nan, 7.0),
    "nothing but no number": (nan, nan, nan),
    "without end": (-inf, 6.0, inf),
    "nothing but without end": (inf, -inf),
    "as large as doubles are": (-1.7e308, 1.7e308),
}
"""What has to be painted in no time, and how it is called."""

numbers = st.one_of(
    st.sampled_from([value for values in RANGES.values() for value in values]),
    st.floats(),
    st.integers(-3, 3).map(lambda n: 250.0 + n * 2.8e-14),
)
"""Any number, rather often a bad one."""

ranges = st.lists(numbers, max_size=12)
