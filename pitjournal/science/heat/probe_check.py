"""A probe checked in ice water and at the boil: what to add to its readings."""

ICE = 0.0
"""Ice and water together, °C."""


def correction_line(ice: float | None, boil: float | None, boils_at: float) -> tuple[float, float]:
    """Return `(a, b)`: to a reading of r °C, a + b·r K are added.

    Both points give a straight line through them; one point gives a shift alone.

    Parameters
    ----------
    ice, boil
        What the probe read in ice water and in boiling water, °C; None is not checked.
    boils_at
        Where water boils at the place, °C.

    Raises
    ------
    ValueError
        If the probe read no more at the boil than in ice.
    """
    if ice is None and boil is None:
        return 0.0, 0.0
    if boil is None:
        return ICE - (ice or 0.0), 0.0
    if ice is None:
        return boils_at - boil, 0.0
    if boil <= ice:
        raise ValueError(f"{boil:g} °C at the boil is not above {ice:g} °C in ice")
    slope = ((boils_at - boil) - (ICE - ice)) / (boil - ice)
    return ICE - ice - slope * ice, slope
