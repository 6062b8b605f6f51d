"""Commands on the recipes of a cook: kept as they were, or as the Shelf has them today."""

from dataclasses import dataclass, replace

from pitjournal.domain.shelf import QUARTER_CUP, Setting, ShelfItem
from pitjournal.domain.treatment import Treatment
from pitjournal.domain.used_recipe import densities_of, details_of, is_kept, to_keep
from pitjournal.store.transaction import Transaction


def keep_recipes(transaction: Transaction, cook_id: str) -> None:
    """Keep each recipe of a cook as the Shelf has it, unless one was kept before."""
    found = transaction.find(Treatment, cook_id=cook_id)
    treatments = [one for one in found if one.recipe and not is_kept(one)]
    if not treatments:
        return
    items = transaction.find(ShelfItem)
    jar = next(iter(transaction.find(Setting, id=QUARTER_CUP)), None)
    shelf, densities = details_of(items), densities_of(items, jar.value if jar else "")
    for treatment in treatments:
        kept = to_keep(treatment.recipe, shelf, densities)
        if kept:
            transaction.put(treatment, replace(treatment, made_of=kept))


@dataclass(frozen=True)
class TakeRecipe:
    """Keep the recipe of a treatment as the Shelf has it today."""

    treatment_id: str
    label: str
    merge_key: str = ""

    def run(self, transaction: Transaction) -> None:
        """Forget what was kept, and keep what stands there."""
        old = transaction.get(Treatment, self.treatment_id)
        transaction.put(old, replace(old, made_of={}))
        keep_recipes(transaction, old.cook_id)
