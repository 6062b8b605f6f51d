"""Make a cook's summary for someone else, with a list of what leaves."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from pitjournal.domain.recipe import SPOONS
from pitjournal.domain.shelf import ShelfKind
from pitjournal.files.summary.content import Choice, PlateChart, Summary
from pitjournal.journal.journal import Journal
from pitjournal.journal.sharing.compose import NOTHING_FOUND, Material, compose
from pitjournal.journal.sharing.questions import ToAnswer, answers, may_leave
from pitjournal.journal.sharing.tables import Values, recorded_values
from pitjournal.units import UnitSystem


def summary(
    journal: Journal,
    cook_id: str,
    choice: Choice | None = None,
    system: UnitSystem = UnitSystem.US,
    *,
    found: Mapping[str, Any] = NOTHING_FOUND,
    values: Values | None = None,
    plate: PlateChart | None = None,
) -> Summary:
    """Return what one cook's summary says.

    Parameters
    ----------
    journal
        The open journal.
    cook_id
        Which cook.
    choice
        The detail of recipes and the private parts that leave; None lets out the least.
    system
        The units it is written in.
    found
        The findings under their documented JSON keys, words in the same units.
    values
        What was worked out for each piece, by id and catalogue key, in storage units;
        what was recorded is added.
    plate
        What the cook showed at a glance.

    Raises
    ------
    JournalError
        If the cook is gone.
    """
    whole, catalogue = journal.whole(cook_id), journal.catalogue()
    material = Material(
        whole=whole,
        catalogue=catalogue,
        values=recorded_values(whole, catalogue, values or {}),
        found=found,
        shelf=recipes_of(journal),
        samples=journal.files.samples,
        attachment=journal.files.read,
        plate=plate,
    )
    return compose(material, choice or Choice(), system)


def protecting_words(journal: Journal, cook_id: str, system: UnitSystem) -> list[str]:
    """Return the facts of a cook's meat that protect an eater, as a summary says them.

    Raises
    ------
    JournalError
        If the cook is gone.
    """
    from pitjournal.journal.sharing.figures import Figures
    from pitjournal.journal.sharing.recipes import protecting

    return protecting(journal.whole(cook_id), recipes_of(journal), Figures(system))


def recipes_of(journal: Journal) -> dict[str, Mapping[str, Any]]:
    """Return the details of the rubs and recipes on the Shelf, by name, with what spoons weigh."""
    spoons = {name: density.tablespoon for name, density in journal.shelf.densities().items()}
    items = [*journal.shelf.items(ShelfKind.RUB), *journal.shelf.items(ShelfKind.RECIPE)]
    return {item.name: {**item.details, SPOONS: spoons} for item in items}


def whole_summary(
    journal: Journal,
    cook_id: str,
    choice: Choice | None = None,
    system: UnitSystem = UnitSystem.US,
    *,
    chosen: Sequence[ToAnswer] = (),
    every_cut: bool | None = None,
) -> Summary:
    """Return one cook's summary with its findings and worked-out values; as `summary` else.

    `every_cut` joins other cuts too, None as was chosen for the cook. `chosen` are questions to all cooks whose answers go along, as far as they may leave.

    Raises
    ------
    JournalError
        If the cook is gone, or a question cannot be asked.
    """
    from pitjournal.analysis.findings.as_json import as_json
    from pitjournal.journal.sharing.plate import plate_chart_of

    shown = journal.findings.of(cook_id, system, every_cut=every_cut)
    found = as_json(shown, journal.findings.slow(cook_id))
    rows = journal.values([cook_id])
    values = {owner: values for owner, _, level, values in rows if level == "piece"}
    plate = plate_chart_of(journal.whole(cook_id), shown, system)
    made = summary(journal, cook_id, choice, system, found=found, values=values, plate=plate)
    leaving, leaves, stays = may_leave(chosen, journal.catalogue(), choice or Choice())
    return replace(
        made,
        asked=answers(journal, leaving, system),
        leaves=(*made.leaves, *leaves),
        left_out=(*made.left_out, *stays),
    )
