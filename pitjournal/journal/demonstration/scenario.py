"""The invented scenario: what one cook who does not exist did in fourteen months.

Nobody here lives, and no cook took place. Each plan says how many days before "now" it was and
what was compared; what the meat then did comes from the simulation and from a lot.
"""

from dataclasses import replace

from pitjournal.domain.cook import CookKind
from pitjournal.journal.demonstration.cuts import BRISKET, BUTT, FLAT, HOUR, THIGHS
from pitjournal.journal.demonstration.plans import (
    ALONE,
    BOTH,
    DRY_BRINED,
    FOIL,
    INJECTED,
    LONG_OFFSET,
    NEEDLED,
    OLD_DRUM,
    PAPER,
    CookPlan,
)

_INJECT = CookPlan(
    days_ago=0,
    title="Inject or leave alone",
    question="Does injecting change the bite?",
    outcome="score.tenderness",
    arms=(ALONE, INJECTED),
    blocks=3,
    series=True,
)
_NEEDLE = CookPlan(
    days_ago=0,
    title="Needle or leave alone",
    question="Does needling change the bite?",
    outcome="score.tenderness",
    arms=(ALONE, NEEDLED),
    blocks=3,
)
_WRAP = CookPlan(
    days_ago=0,
    title="Foil or paper",
    question="Which wrap is quicker?",
    outcome="time_on",
    arms=(PAPER, FOIL),
    blocks=3,
)
_BRINE = CookPlan(
    days_ago=0,
    title="Thighs, salted the day before or not",
    cut=THIGHS,
    cooker=OLD_DRUM,
    set_point=325.0,
    lit="15:00",
    wrap="none",
    question="Does a dry brine keep thighs juicier?",
    outcome="score.juiciness",
    arms=(ALONE, DRY_BRINED),
    blocks=6,
    ahead=18 * HOUR,
)
_BURN = CookPlan(
    days_ago=0,
    title="Lump, for the scale",
    question="Does the compressed log burn less by the hour than lump?",
    outcome="fuel_rate",
    panel=False,
)
_HOME = CookPlan(days_ago=0, title="", kind=CookKind.HOME)
_BUTT = replace(_HOME, cut=BUTT, lit="05:00", logger="long")
_BRISKET = CookPlan(
    days_ago=0,
    title="",
    cut=BRISKET,
    cooker=LONG_OFFSET,
    fuel="oak splits",
    wood="oak",
    lit="04:30",
    blocks=1,
    wrap="paper",
    logger="day first",
)
_WEEKNIGHT = replace(
    _BRINE, kind=CookKind.HOME, question="", outcome=None, arms=(), blocks=8, logger="", panel=False
)

THE_COMPARISON = replace(
    _INJECT,
    days_ago=28,
    title="Three ways with nine racks",
    question="Does injecting or needling change the bite?",
    arms=(ALONE, INJECTED, NEEDLED),
    second_logger=True,
    photos=True,
    note="Three packs of three racks; each pack gave one rack to each arm, drawn by lot.",
)
"""The cook to show first."""

DONE: tuple[CookPlan, ...] = (
    replace(_HOME, days_ago=420, title="First ribs of the autumn", photos=True),
    replace(_BRISKET, days_ago=406, title="A brisket to learn the offset", photos=True),
    replace(_BRINE, days_ago=392, wood="cherry", logger="day first"),
    replace(_INJECT, days_ago=378, fuel="compressed log", blocks=2),
    replace(_BUTT, days_ago=364, title="Two butts for a crowd", wood="apple"),
    replace(_NEEDLE, days_ago=350, cooker=OLD_DRUM, fuel="compressed log", wood="cherry", blocks=2),
    replace(_BURN, days_ago=336, cooker=OLD_DRUM),
    replace(
        _BURN,
        days_ago=322,
        title="The log, same racks",
        cooker=OLD_DRUM,
        fuel="compressed log",
    ),
    replace(_WRAP, days_ago=301, logger="long"),
    replace(_WEEKNIGHT, days_ago=285, title="Thighs on a weeknight"),
    replace(_BRISKET, days_ago=266, title="Brisket in the cold"),
    replace(
        _BRINE,
        days_ago=252,
        title="Salted thighs again, over the log",
        fuel="compressed log",
        logger="long",
    ),
    replace(
        _INJECT,
        days_ago=238,
        title="Inject or leave alone, on the drum",
        cooker=OLD_DRUM,
        logger="day first",
        wood="cherry",
    ),
    replace(
        _WRAP,
        days_ago=224,
        title="Foil or paper, on the drum",
        cooker=OLD_DRUM,
        fuel="compressed log",
        wood="cherry",
    ),
    replace(
        _INJECT,
        days_ago=210,
        title="Inject or leave alone, this time butts",
        cut=BUTT,
        wood="apple",
        lit="04:00",
        blocks=2,
        logger="long",
    ),
    replace(
        _HOME,
        days_ago=196,
        title="Spring contest, ribs",
        kind=CookKind.CONTEST,
        wood="cherry",
        lit="06:30",
        blocks=4,
        photos=True,
    ),
    replace(
        _BURN,
        days_ago=182,
        title="The log in the gravity box",
        fuel="compressed log",
        logger="long",
    ),
    replace(_BURN, days_ago=168, title="Lump in the gravity box", logger="long"),
    replace(
        _NEEDLE,
        days_ago=154,
        title="Needle or leave alone, more racks",
        wood="cherry",
        logger="day first",
    ),
    replace(
        _WRAP,
        days_ago=140,
        title="One flat in two halves, foil or paper",
        cut=FLAT,
        cooker=LONG_OFFSET,
        fuel="oak splits",
        wood="oak",
        lit="05:30",
        blocks=1,
    ),
    replace(_BRINE, days_ago=126, title="Salted thighs, third time", fuel="compressed log"),
    replace(
        _BRISKET,
        days_ago=112,
        title="Summer contest, brisket",
        kind=CookKind.CONTEST,
        lit="01:00",
        photos=True,
    ),
    replace(
        _WRAP, days_ago=98, title="Foil or paper, third time", fuel="compressed log", wood="cherry"
    ),
    replace(_NEEDLE, days_ago=84, title="Needle or leave alone, butts", cut=BUTT, lit="04:30"),
    replace(_HOME, days_ago=70, title="Ribs to try a new rub", cooker=OLD_DRUM, wood="apple"),
    replace(
        _INJECT,
        days_ago=56,
        title="Inject or leave alone, for pictures",
        fuel="compressed log",
        wood="cherry",
        photos=True,
    ),
    replace(_BUTT, days_ago=42, title="Butts through the night", lit="20:30", blocks=3),
    THE_COMPARISON,
    replace(
        _HOME,
        days_ago=21,
        title="Ribs on the offset, for the class",
        kind=CookKind.CLASS,
        cooker=LONG_OFFSET,
        fuel="oak splits",
        wood="oak",
        blocks=3,
        logger="day first",
    ),
    replace(_WEEKNIGHT, days_ago=13, title="Thighs for the neighbours", blocks=10),
    replace(_BRISKET, days_ago=7, title="Brisket before the frost", photos=True),
)

RUNNING = replace(
    _INJECT,
    title="Inject or leave alone, once more",
    wood="cherry",
    note="Running while you look at it.",
)
"""Its fire was lit a few hours before "now"."""

PLANNED = replace(
    _INJECT,
    days_ago=-7,
    title="Injected, needled, or both",
    question="Do injecting and needling together do more than each alone?",
    arms=(ALONE, INJECTED, NEEDLED, BOTH),
    blocks=2,
)

_CONTEST = CookPlan(
    days_ago=0,
    title="",
    kind=CookKind.CONTEST,
    lit="06:00",
    blocks=3,
    logger="",
    judged=True,
    note="Entered afterwards from the score sheets; the panel tasted before the judges did.",
)

_PRIME = replace(
    _CONTEST,
    cut=replace(BRISKET, price=0.0168),
    cooker=LONG_OFFSET,
    fuel="oak splits",
    wood="oak",
    lit="01:00",
    wrap="paper",
    grade="prime",
)

CONTESTS: tuple[CookPlan, ...] = (
    replace(_CONTEST, days_ago=399, title="Autumn contest, ribs", spray_every=0.0),
    replace(_PRIME, days_ago=259, title="Winter contest, brisket"),
    replace(_PRIME, days_ago=189, title="Second spring contest, brisket"),
    replace(
        _CONTEST,
        days_ago=147,
        title="Early summer contest, ribs",
        wood="cherry",
        spray_every=0.0,
    ),
    replace(_PRIME, days_ago=105, title="Midsummer contest, brisket"),
    replace(
        _CONTEST,
        days_ago=49,
        title="Harvest contest, ribs",
        cooker=OLD_DRUM,
        wood="cherry",
        spray_every=0.0,
    ),
)
"""What six judges scored too; entered last, though it lies between the others."""
