"""What a kilogram of fuel is worth, wet or dry."""

_LATENT = 2.443e6
"""Heat that carries off a kg of moisture, J/kg, at 25 °C (form of EN ISO 18125)."""


def net_calorific_value(dry: float, moisture: float) -> float:
    """Return the net calorific value of fuel as burnt, J/kg.

    Parameters
    ----------
    dry
        Net calorific value when bone dry, J/kg.
    moisture
        Mass of water ÷ mass of *wet* fuel, 0 to 1.
    """
    return dry * (1 - moisture) - _LATENT * moisture


def wet_basis(dry_basis: float) -> float:
    """Return water ÷ wet fuel from water ÷ dry fuel, which moisture meters usually show."""
    return dry_basis / (1 + dry_basis)


def dry_basis(wet_basis: float) -> float | None:
    """Return water ÷ dry fuel from water ÷ wet fuel; None for water alone."""
    return wet_basis / (1 - wet_basis) if wet_basis < 1 else None
