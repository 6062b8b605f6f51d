"""What leaves with a bundle, in words, and what was recorded and stays at home."""

from collections.abc import Iterable

from pitjournal.domain.tasting import TastingState
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.files.summary.content import Choice, PrivatePart
from pitjournal.journal.bundles.leaving import EVERYTHING
from pitjournal.journal.sharing.facts import PART_WORDS, SHARES, recorded_parts
from pitjournal.journal.sharing.recipes import Shelf, has_amounts

PLAN_LEAVES = (
    "titles, questions, arms and what decides",
    "cuts, how many pieces, what is held the same, when to stop",
    "names of rubs and recipes, allergens, curing salt",
)
WHAT_WAS_FOUND = ("everything that was weighed, logged, photographed and tasted",)

ALWAYS = (
    "titles, questions, dates and clock times",
    "arms, pieces, weights, temperatures and scores",
    "names of rubs and recipes, allergens, curing salt",
)
"""What leaves with every bundle: without it, the cooks could not be worked out anew."""

DAYS_ALONE = "titles, questions and dates; times as lengths from noon"
FILES, CONTESTS = "files of thermometers", "contests and their cards"
"""What stays besides where clock times do."""


def what_leaves(
    wholes: Iterable[WholeCook], shelf: Shelf, choice: Choice
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return in words what leaves with a bundle of cooks, and what was recorded and stays.

    Parameters
    ----------
    wholes
        The cooks; each is asked for once.
    shelf
        Details of the rubs and recipes on the Shelf, by name.
    choice
        The detail of recipes and the private parts that leave.
    """
    found: dict[str, bool] = {}
    for whole in wholes:
        if has_amounts(whole, shelf):
            found[SHARES] = choice.ratios
            found["amounts of recipes"] = choice.grams
        for part, recorded in recorded_parts(whole).items():
            if recorded and part is not PrivatePart.TIMES:
                found[PART_WORDS[part]] = part in choice
        if choice != EVERYTHING and any(
            one.state is not TastingState.REVEALED for one in whole.tastings
        ):
            found["tastings that are not revealed"] = False
    photos = PART_WORDS[PrivatePart.PHOTOS]
    if found.get(photos) and choice != EVERYTHING:
        del found[photos]
        found["small pictures of photos, without what a camera writes into them"] = True
    if choice.clockless:
        found.pop(PART_WORDS[PrivatePart.DEVICE], None)
        found |= dict.fromkeys((PART_WORDS[PrivatePart.TIMES], FILES, CONTESTS), False)
    leaves = [words for words, leave in found.items() if leave]
    always = (DAYS_ALONE, *ALWAYS[1:]) if choice.clockless else ALWAYS
    return (*always, *leaves), tuple(words for words, leave in found.items() if not leave)
