"""Pickup, and what a brine or an injection leaves in the meat.

Every share is a fraction (0.10 is ten per cent); masses of one call share one unit. The
formulas for nitrite are those of the USDA FSIS Processing Inspectors' Calculations Handbook
(Directive 7620.3, 1995). They say what *went in*; no amount is proposed or approved here, and
limits depend on the product and the place.
"""

_MILLION = 1e6


def pickup(green: float, treated: float) -> float | None:
    """Return (treated − green) ÷ green; negative where the meat lost weight.

    Parameters
    ----------
    green, treated
        Mass before, and after draining and blotting.

    Returns
    -------
    float or None
        None without a green mass.
    """
    return (treated - green) / green if green > 0 else None


def strength_of_water(salt: float, water: float) -> float | None:
    """Return the salt as a fraction of the *water*, the other way of stating a brine."""
    return salt / water if water > 0 else None


def on_green(strength: float, pickup: float) -> float:
    """Return an ingredient of the brine as a fraction of green weight.

    Parameters
    ----------
    strength
        Fraction of the brine.
    pickup
        Fraction of green weight taken up.
    """
    return strength * pickup


def on_pumped(strength: float, pickup: float) -> float | None:
    """Return an ingredient of the brine as a fraction of the weight after pumping."""
    return strength * pickup / (1 + pickup) if pickup > -1 else None


def on_finished(strength: float, pickup: float, cooked_yield: float) -> float | None:
    """Return an ingredient of the brine as a fraction of the finished weight.

    Cooking drives off water and leaves the ingredient, so the share rises.

    Parameters
    ----------
    strength, pickup
        As for `on_green`.
    cooked_yield
        Finished ÷ pumped weight.
    """
    pumped = on_pumped(strength, pickup)
    return pumped / cooked_yield if pumped is not None and cooked_yield > 0 else None


def strongest_brine(limit: float, pickup: float, cooked_yield: float = 1.0) -> float | None:
    """Return the strength of brine that just meets a limit in the finished meat.

    Parameters
    ----------
    limit
        Fraction of finished weight, such as 0.005 for phosphates (9 CFR 424.21(c)).
    pickup
        Fraction of green weight.
    cooked_yield
        Finished ÷ pumped weight; 1 counts the raw pumped weight.

    Returns
    -------
    float or None
        None when nothing is taken up, since then no brine breaks the limit.
    """
    return limit * (1 + pickup) * cooked_yield / pickup if pickup > 0 else None


def nitrite_pumped(nitrite: float, brine: float, pickup: float) -> float | None:
    """Return ingoing nitrite of pumped meat, parts per million of green weight.

    Parameters
    ----------
    nitrite, brine
        Mass of sodium nitrite itself (not of curing salt), and of the whole brine.
    pickup
        Fraction of green weight.
    """
    return nitrite * pickup * _MILLION / brine if brine > 0 else None


def nitrite_dry(cure: float, nitrite_in_cure: float, meat: float) -> float | None:
    """Return ingoing nitrite of a dry cure, parts per million of green weight.

    Parameters
    ----------
    cure, meat
        Masses of curing salt and of green meat.
    nitrite_in_cure
        Fraction of the curing salt, from its label; blends differ.
    """
    return cure * nitrite_in_cure * _MILLION / meat if meat > 0 else None


def nitrite_immersed(nitrite: float, meat: float, brine: float) -> float | None:
    """Return nitrite of meat left in brine until both are alike, parts per million of the sum.

    Parameters
    ----------
    nitrite, meat, brine
        Masses of sodium nitrite itself, of green meat and of brine.
    """
    whole = meat + brine
    return nitrite * _MILLION / whole if whole > 0 else None


def equilibrium(ingredient: float, meat: float, brine: float) -> float | None:
    """Return an ingredient as a fraction of meat and brine once both are alike.

    The second immersion method of the handbook, without its million; meat that was not left so
    long holds less inside and more at its surface.

    Parameters
    ----------
    ingredient, meat, brine
        Masses of the ingredient itself, of green meat, and of the brine with the ingredient.
    """
    whole = meat + brine
    return ingredient / whole if whole > 0 else None
