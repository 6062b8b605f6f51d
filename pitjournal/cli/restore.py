"""`pitjournal restore`: say what a backup would change, and put it in the journal's place."""

from pathlib import Path

from pitjournal.cli.output import as_json, line
from pitjournal.cli.parser import Arguments, Parser
from pitjournal.domain.times.moments import utc_words
from pitjournal.journal.backups.restoring import (
    Offer,
    Restored,
    choose,
    difference_words,
    look_at,
    restore,
)
from pitjournal.units.figures import counted


def add_arguments(parser: Parser) -> None:
    """Say what the command takes."""
    parser.add_journal()
    parser.add_argument("--from", dest="source", metavar="FILE", type=Path)
    parser.add_argument("--dry-run", action="store_true")
    parser.add_json()


def run(arguments: Arguments) -> int:
    """Say what differs, and restore unless only that was asked for; 1 where files are missing."""
    folder = arguments.journal.expanduser()
    remarks: tuple[str, ...] = ()
    source = arguments.source
    if source is None:
        chosen = choose(folder)
        source, remarks = chosen.path, chosen.remarks
    offer = look_at(folder, source)
    if not arguments.json:
        for words in remarks:
            line(words)
        _say(offer)
    done = None if arguments.dry_run else restore(folder, source)
    told = offer if done is None else done
    if arguments.json:
        as_json(_json(offer, done) | {"remarks": list(remarks)})
    elif done is None:
        _say_files(told, "would come back")
        line("Nothing was changed.")
    else:
        _say_done(folder, done)
    return int(bool(told.missing))


def _say(offer: Offer) -> None:
    made = f", made {utc_words(offer.at)}" if offer.at else ""
    cooks = counted(offer.cooks, "cook")
    line(f"The backup {offer.path} has {cooks}{made}.")
    for words in difference_words(offer.differences):
        line(f"  {words}")


def _say_files(told: Offer | Restored, came: str) -> None:
    if told.files_back:
        line(f"Photos and logs that {came}: {told.files_back}")
    if told.missing:
        line(
            f"Photos and logs that are missing or damaged in it, and here too: {len(told.missing)}"
        )
        for name in told.missing:
            line(f"  {name}")
        line("Try: pitjournal check JOURNAL --repair, which looks into the other backups.")


def _say_done(folder: Path, done: Restored) -> None:
    line(f"Restored {folder}.")
    if done.kept.backup is not None:
        line(f"The journal as it was is kept as a backup: {done.kept.backup.path}")
    if done.kept.aside is not None:
        line(f"The damaged journal as it was lies in {done.kept.aside}")
    _say_files(done, "came back")


def _json(offer: Offer, done: Restored | None) -> dict[str, object]:
    told = offer if done is None else done
    found = offer.differences
    differences = {
        name: [vars(cook) for cook in getattr(found, name)] for name in ("go", "come", "change")
    } | {"others": found.others}
    kept = None if done is None else (done.kept.backup and done.kept.backup.path) or done.kept.aside
    return {
        "from": str(offer.path),
        "made": None if offer.at is None else offer.at.isoformat(),
        "cooks": offer.cooks,
        "today_read": found.today_read,
        "differences": differences,
        "restored": done is not None,
        "kept": None if kept is None else str(kept),
        "files": {
            "back": told.files_back,
            "missing": len(told.missing),
            "which": list(told.missing),
        },
    }
