"""Which filters the list offers by itself: what the journal has most of."""

from pitjournal.analysis.trends.question import Sign, Where
from pitjournal.domain.cook import CookKind
from pitjournal.journal import Journal

Offer = tuple[Where, str, int]
"""A filter, the word on its chip, and how many cooks pass it beside those that hold."""

TREATMENTS = 2


def offers(journal: Journal, where: tuple[Where, ...]) -> tuple[int, list[Offer]]:
    """Return how many cooks pass the filters that hold, and what may be added; for a worker."""
    cuts, treated = journal.cooks.commonest()
    wanted = [(Where("cut", Sign.IS, (cut,)), cut) for cut in cuts]
    wanted += [(Where("treatment", Sign.IS, (one,)), one) for one in treated[:TREATMENTS]]
    wanted.append((Where("kind", Sign.IS, (CookKind.CONTEST.value,)), CookKind.CONTEST.value))
    held = {one.key for one in where}
    wanted = [(one, word) for one, word in wanted if one.key not in held]
    passing, counts = journal.trends.counts_where(where, [one for one, _ in wanted])
    found = [(one, word, count) for (one, word), count in zip(wanted, counts, strict=True)]
    return passing, [offer for offer in found if offer[2] < passing]
