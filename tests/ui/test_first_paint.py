"""What is not seen is not loaded before the list of cooks is painted."""

import os
from contextlib import closing
from pathlib import Path

from pitjournal.journal import open_journal
from pitjournal.journal.commands.records import AddCook
from tests.benchmarks.first_paint import OURS, until_painted
from tests.builders import a_cook

UNSEEN = frozenset(
    {
        # libraries
        "PIL",
        "html",
        "jinja2",
        "numpy",
        "pint",
        "polars",
        "pyqtgraph",
        "scipy",
        "sqlalchemy.orm",
        "statistics",
        # of ours: other pages, what they write, what is said of a damaged journal
        "pitjournal.analysis.derived",
        "pitjournal.analysis.findings.comparison",
        "pitjournal.domain.day.ribbon",
        "pitjournal.files.probe_log",
        "pitjournal.files.summary",
        "pitjournal.journal.backups.restoring",
        "pitjournal.journal.backups.salvage",
        "pitjournal.journal.commands.bench",
        "pitjournal.journal.commands.plan",
        "pitjournal.journal.sharing",
        "pitjournal.ui.bench",
        "pitjournal.ui.charts.canvas",
        "pitjournal.ui.findings",
        "pitjournal.ui.forms",
        "pitjournal.ui.keeping.rescue",
        "pitjournal.ui.plan",
        "pitjournal.ui.shelf",
        "pitjournal.ui.trends",
    }
)
"""asyncio is not among them: the database's library loads it by itself."""

MOST = 600
"""So many modules may be loaded in all."""


def test_that_a_painted_list_has_loaded_nothing_of_what_is_not_seen(tmp_path: Path) -> None:
    folder = tmp_path / "journal"
    with closing(open_journal(folder, new=True)) as journal:
        journal.do(AddCook(a_cook("Ribs, invented")))
    environment = {**os.environ, "PITJOURNAL_SETTINGS": str(tmp_path / "settings.json")}
    painted = until_painted(OURS, folder, environment)
    assert "pitjournal.ui.cooks.page" in painted.modules
    assert painted.modules & UNSEEN == set()
    assert len(painted.modules) < MOST
