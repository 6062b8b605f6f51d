"""An open journal: the one door for the window, the command line, scripts and tests."""

from collections.abc import Callable
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from pitjournal.domain.catalogue import Catalogue
from pitjournal.domain.cook import Cook
from pitjournal.domain.record import Record
from pitjournal.domain.shelf import OwnVariable, Setting, ShelfItem
from pitjournal.domain.targets import SETTING as TARGETS
from pitjournal.domain.targets import Target, targets_from
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.errors import JournalError
from pitjournal.files.targets import shipped_targets
from pitjournal.journal.backups import Backups
from pitjournal.journal.changes import Changes, changes_of
from pitjournal.journal.commands import Command
from pitjournal.journal.jobs import Jobs, Progress
from pitjournal.journal.kept_files import KeptFiles
from pitjournal.journal.queries.contests import Contests
from pitjournal.journal.queries.cooks import Cooks
from pitjournal.journal.queries.findings import FindingsQueries
from pitjournal.journal.queries.shelf import Shelf
from pitjournal.journal.queries.trends import Trends
from pitjournal.journal.queries.values import Row, WorkedOut
from pitjournal.journal.queries.whole import whole_cooks
from pitjournal.store import carrying, cook_list, used_by
from pitjournal.store.database import Database
from pitjournal.store.drafts import Drafts
from pitjournal.store.faults import DamagedError
from pitjournal.units.figures import counted

if TYPE_CHECKING:
    from pitjournal.journal.queries.ahead import ComesOff, Outlook
    from pitjournal.journal.queries.graded import Graded

Listener = Callable[[Changes], None]
R = TypeVar("R", bound=Record)


class Journal:
    """An open journal.

    Change it with `do(command)`, `undo()` and `redo()`; read it with the queries; hear of
    changes with `subscribe(listener)`, once an operation.

    Parameters
    ----------
    database
        The open database; `open_journal` makes one.

    Attributes
    ----------
    jobs
        The worker for what takes long.
    files
        Photos and logs as they were kept, and the readings of traces.
    shelf
        What is used again: its items, what weighs what, schemes.
    worked_out
        What was worked out from the records, and is kept until they change.
    trends
        Where questions to all cooks are asked. Both may be used from any thread.
    cooks
        The list of cooks: its lines, and cooks by their words.
    findings
        What a cook showed.
    contests
        Contests with their categories and cards.
    """

    def __init__(self, database: Database) -> None:
        self._database = database
        self._listeners: list[Listener] = []
        self.jobs = Jobs()
        self.files = KeptFiles(database)
        self.shelf = Shelf(database)
        self.worked_out = WorkedOut(self)
        self.trends = Trends(self)
        self.cooks = Cooks(database)
        self.findings = FindingsQueries(self)
        self.contests = Contests(database)

    # what it is

    @property
    def folder(self) -> Path:
        """The journal's folder."""
        return self._database.folder

    @property
    def name(self) -> str:
        """The folder's name, which is the journal's."""
        return self._database.folder.resolve().name

    @property
    def read_only(self) -> bool:
        """Whether it can only be read."""
        return self._database.read_only

    @property
    def why_read_only(self) -> tuple[str, str] | None:
        """Why it can only be read, and what to do about it; None where it can be changed."""
        return self._database.why_read_only

    @property
    def database(self) -> Database:
        """The store below, for the queries and checks of this layer."""
        return self._database

    # changing

    def do(self, command: Command, initiator: object | None = None) -> Changes:
        """Run a command in one transaction and tell everyone once.

        Raises
        ------
        JournalError
            If it cannot be done; nothing was changed. `NotSavedError` (a subclass) says that
            the disk refused and that the same command may be tried again.
        """
        large = getattr(command, "large", "")
        if large:
            self.backups.make(f"before-{large}")
        touched = self._database.change(command.label, command.run, merge_key=command.merge_key)
        return self._tell(changes_of(touched, command.label, initiator))

    def undo(self, initiator: object | None = None) -> Changes | None:
        """Take back the newest operation, also one of yesterday; None when there is none."""
        found = self._database.undo()
        if found is None:
            return None
        step, touched = found
        return self._tell(changes_of(touched, f"Undid: {step.label}", initiator))

    def redo(self, initiator: object | None = None) -> Changes | None:
        """Do the last undone operation again; None when there is none."""
        found = self._database.redo()
        if found is None:
            return None
        step, touched = found
        return self._tell(changes_of(touched, f"Redid: {step.label}", initiator))

    def steps(self) -> tuple[str | None, str | None]:
        """Return what undo and redo would take back and do, in words."""
        back, again = self._database.next_steps()
        return back.label if back else None, again.label if again else None

    def undo_hides(self) -> bool:
        """Whether undo would take back a reveal: the codes were seen, and stay so."""
        return self._database.undo_hides()

    def undo_concerns(self) -> frozenset[str]:
        """Return the ids of the cooks whose records undo would change."""
        return changes_of(self._database.undo_touches(), "", None).cooks

    def subscribe(self, listener: Listener) -> Callable[[], None]:
        """Call `listener` after each operation; the returned function ends that."""
        self._listeners.append(listener)

        def end() -> None:
            if listener in self._listeners:
                self._listeners.remove(listener)

        return end

    def _tell(self, changes: Changes) -> Changes:
        if changes:
            for listener in tuple(self._listeners):
                listener(changes)
        return changes

    # files

    @property
    def drafts(self) -> Drafts:
        """What was begun and is not yet part of the journal."""
        return self._database.drafts

    @cached_property
    def backups(self) -> Backups:
        """The backups in the journal's folder."""
        return Backups(self._database)

    def keep_elsewhere(self, folder: Path, progress: Progress | None = None) -> str:
        """Write the open journal, as far as it is saved, into another folder.

        It works also where the journal's own folder is gone: the open file still has all. Of a
        damaged one, what can be read is written. What had been written is removed again where
        it cannot be finished or is no longer wanted.

        Returns
        -------
        str
            What a cook must know of it: where it is now, and what did not come along.

        Raises
        ------
        JournalError
            If the folder is not empty, or cannot be written.
        CancelledJobError
            If it was stopped.
        """
        progress = progress or Progress()
        try:
            missing, said = carrying.carry(self._database, folder, progress.report), ""
        except DamagedError:
            from pitjournal.journal.backups.salvage import salvage

            progress.report(None, "reading what can be read of the damaged journal")
            found = salvage(self.folder, folder)
            missing, lost = len(found.missing), len(found.lost)
            many = counted(found.cooks, "cook")
            said = f"{many} could be read{f', {lost} other things not' if lost else ''}. "
        if missing:
            gone = "1 photo or log is" if missing == 1 else f"{missing} photos and logs are"
            said += f"{gone} gone: a backup may have them. "
        return f"{said}The journal is now in {folder}."

    # reading

    def whole(self, cook_id: str) -> WholeCook:
        """Return a cook with all that belongs to it.

        Raises
        ------
        JournalError
            If it is gone, or cannot be read.
        """
        found = self.wholes([cook_id])
        why = self._database.missed.get((Cook.KIND, cook_id))
        if why is not None:
            message = f"That cook cannot be read: its {why}."
            raise JournalError(message, "Mend it with: pitjournal check JOURNAL --repair")
        if cook_id not in found:
            raise JournalError("That cook is no longer in the journal.", "Undo brings it back.")
        return found[cook_id]

    def wholes(self, cook_ids: list[str]) -> dict[str, WholeCook]:
        """Return several whole cooks by id."""
        return whole_cooks(self._database, cook_ids)

    def find(self, kind: type[R], /, **where: object) -> list[R]:
        """Return the records of a kind whose fields have these values."""
        return self._database.find(kind, **where)

    def used(self, kind: type[Record], field: str) -> list[str]:
        """Return the texts used in a field so far, most used first."""
        return cook_list.distinct(self._database, kind.KIND, field)

    def own_use(self) -> dict[str, used_by.OwnUse]:
        """Return how many values of each own variable there are, in how many cooks, by its id."""
        return used_by.own_variables(self._database)

    def cooks_with(self, items: list[ShelfItem]) -> dict[str, tuple[int, ...]]:
        """Return the numbers of the cooks that have each thing of the Shelf, newest first."""
        return used_by.cooks_with(self._database, items)

    def catalogue(self) -> Catalogue:
        """Return the variables of this journal."""
        sessions = cook_list.unlike_tastings(self._database)
        scored = [one for session in sessions for one in session.scored]
        scored += [one for scheme in self.shelf.schemes() for one in scheme.scored]
        return Catalogue(scored, self._database.find(OwnVariable))

    def values(self, cook_ids: list[str] | None = None) -> list[Row]:
        """Return the worked-out values of these cooks, or of all, fresh.

        Each row is ``(owner id, cook id, level, value by catalogue key)`` with the values that
        are known; a piece's row has the values of its arm and its scores too.
        """
        return self.worked_out.rows(cook_ids)

    def comes_off(self, whole: WholeCook) -> "tuple[ComesOff, ...]":
        """Return when the pieces of a running cook will come off; for a worker."""
        from pitjournal.journal.queries.ahead import comes_off

        return comes_off(self, whole)

    def outlook(self, whole: WholeCook, piece_id: str) -> "Outlook | None":
        """Return the fan, the stall and the what-ifs of a piece that is on; for a worker."""
        from pitjournal.journal.queries.ahead import outlook

        return outlook(self, whole, piece_id)

    def graded(self, whole: WholeCook) -> "tuple[tuple[Graded, ...], tuple[Graded, ...]]":
        """Return the forecasts of a cook at half time, and of the last pieces; for a worker."""
        from pitjournal.journal.queries.graded import graded, lately

        own = graded(self, whole)
        return own, lately(self, {whole.cook.id: own})

    def targets(self) -> tuple[Target, ...]:
        """Return what counts as right at a contest and at home: the cook's own, or as shipped."""
        own = self.setting(TARGETS)
        try:
            return targets_from(own) if own else shipped_targets()
        except (ValueError, TypeError, AttributeError):  # it is damaged, and a check names it
            return shipped_targets()

    def setting(self, name: str, default: str = "") -> str:
        """Return a choice kept with the journal."""
        found = self._database.find(Setting, id=name)
        return found[0].value if found else default

    def close(self) -> None:
        """Finish the work under way and let go of the files."""
        self.jobs.close()
        self._database.close()


def open_journal(folder: Path | str, *, read_only: bool = False, new: bool = False) -> Journal:
    """Open the journal in a folder.

    Parameters
    ----------
    folder
        The journal's folder.
    read_only
        Open it for reading only.
    new
        Make it when it is not there.

    Raises
    ------
    JournalError
        If there is no journal in the folder, or it cannot be opened; it is not touched then.
    """
    return Journal(Database(Path(folder).expanduser(), read_only=read_only, new=new))
