"""How the cuts of the invented scenario cook.

Weights, thicknesses, temperatures and times are the trade's usual ones (common practice, no
source); what a slab needs to behave like the cut was set by eye.
"""

from dataclasses import dataclass

HOUR = 3600.0
MINUTE = 60.0


@dataclass(frozen=True, kw_only=True)
class CutCharacter:
    """A cut.

    Attributes
    ----------
    cut
        Its name.
    mass, mass_spread
        g, as bought.
    thickness, thickness_spread
        m, as measured.
    half
        Half thickness of the slab that cooks like a piece of usual thickness, m.
    water, wet
        What a face gives before it dries, kg/m², and how freely.
    transfer
        Heat transfer in the pit, W/(m² K).
    right_at, right_spread
        °C in the middle at which a piece first feels right.
    leeway, leeway_spread
        How long it then stays right, s.
    wrap_after
        s on, or None.
    wrap_at
        °C in the middle, or None.
    probe_every
        Seconds between doneness checks.
    rest
        s before it is sliced.
    fat, waste
        Shares lost as rendered fat, and as bone and trimmings at the board.
    trim
        Share trimmed away.
    price
        Money per g.
    glazed
        Whether it is unwrapped and glazed once it is right.
    """

    cut: str
    mass: float
    mass_spread: float
    thickness: float
    thickness_spread: float
    half: float
    water: float
    wet: float = 0.09
    transfer: float = 17.0
    right_at: float
    right_spread: float
    leeway: float
    leeway_spread: float
    wrap_after: float | None = None
    wrap_at: float | None = None
    probe_every: float = 15 * MINUTE
    rest: float
    fat: float
    waste: float
    trim: float
    price: float
    glazed: bool = False


RIBS = CutCharacter(
    cut="St. Louis ribs",
    mass=1400,
    mass_spread=90,
    thickness=0.026,
    thickness_spread=0.0015,
    half=0.013,
    water=2.5,
    right_at=91.0,
    right_spread=0.4,
    leeway=50 * MINUTE,
    leeway_spread=6 * MINUTE,
    wrap_after=2.25 * HOUR,
    rest=15 * MINUTE,
    fat=0.06,
    waste=0.22,
    trim=0.05,
    price=0.0105,
    glazed=True,
)
BUTT = CutCharacter(
    cut="pork butt",
    mass=3700,
    mass_spread=260,
    thickness=0.095,
    thickness_spread=0.004,
    half=0.043,
    water=5.5,
    right_at=94.5,
    right_spread=0.7,
    leeway=80 * MINUTE,
    leeway_spread=9 * MINUTE,
    wrap_at=71.5,
    rest=90 * MINUTE,
    fat=0.13,
    waste=0.14,
    trim=0.06,
    price=0.0062,
)
BRISKET = CutCharacter(
    cut="brisket",
    mass=6600,
    mass_spread=400,
    thickness=0.058,
    thickness_spread=0.003,
    half=0.034,
    water=5.5,
    right_at=95.0,
    right_spread=0.7,
    leeway=70 * MINUTE,
    leeway_spread=8 * MINUTE,
    wrap_at=71.5,
    rest=2 * HOUR,
    fat=0.16,
    waste=0.06,
    trim=0.16,
    price=0.0118,
)
FLAT = CutCharacter(
    cut="brisket flat",
    mass=2600,
    mass_spread=150,
    thickness=0.045,
    thickness_spread=0.002,
    half=0.027,
    water=4.0,
    right_at=95.0,
    right_spread=0.7,
    leeway=55 * MINUTE,
    leeway_spread=8 * MINUTE,
    wrap_at=70.0,
    rest=1 * HOUR,
    fat=0.07,
    waste=0.04,
    trim=0.05,
    price=0.0135,
)
THIGHS = CutCharacter(
    cut="chicken thighs",
    mass=175,
    mass_spread=12,
    thickness=0.031,
    thickness_spread=0.002,
    half=0.0135,
    water=2.0,
    wet=0.04,
    transfer=22.5,
    right_at=80.5,
    right_spread=0.8,
    leeway=28 * MINUTE,
    leeway_spread=4 * MINUTE,
    probe_every=8 * MINUTE,
    rest=8 * MINUTE,
    fat=0.05,
    waste=0.14,
    trim=0.04,
    price=0.0072,
)
