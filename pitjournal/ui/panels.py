"""Panels that any place may open: settings, journals, the demonstration, a probe file."""

from collections.abc import Callable, Mapping
from dataclasses import replace
from pathlib import Path

from PySide6.QtWidgets import QLineEdit, QWidget

from pitjournal.errors import JournalError
from pitjournal.files.places import is_there, typed_path
from pitjournal.journal.backups import backup
from pitjournal.journal.jobs import Progress
from pitjournal.journal.preferences import demonstration_folder
from pitjournal.store.build import taken_out_words
from pitjournal.store.opening import journal_is_in, may_be_made_in
from pitjournal.store.place import place_of
from pitjournal.ui.desk import Desk
from pitjournal.ui.files_asked import FileKind, open_folder, save_file
from pitjournal.ui.look.parts.buttons import button
from pitjournal.ui.look.parts.chips import Choice
from pitjournal.ui.look.parts.overlay import Overlay
from pitjournal.ui.look.parts.words import Problem, row, words
from pitjournal.ui.look.theme import look
from pitjournal.ui.look.tokens import TEXT_SIZES

Maker = Callable[[Desk, QWidget, str], Overlay | None]


class SettingsPanel(Overlay):
    """The look, the units, the journal."""

    def __init__(self, desk: Desk, over: QWidget) -> None:
        super().__init__(over, "Settings", 640)
        self._desk = desk
        self.theme = Choice("look")
        self.theme.offer(
            (name, text, -1)
            for name, text in (
                ("system", "as the computer"),
                ("light", "light"),
                ("night", "night, dim"),
                ("sun", "sun, black on white"),
            )
        )
        self.theme.choose(look().choice)
        self.theme.chosen.connect(self._theme)
        self.text = Choice("text size")
        self.text.offer((size, f"{size} %", -1) for size in TEXT_SIZES)
        self.text.choose(look().text)
        self.text.chosen.connect(self._text)
        self.listen(look().resized, self._show_text)
        self.units = Choice("units")
        self.units.offer((("us", "°F, lb, in", -1), ("metric", "°C, kg, mm", -1)))
        self.units.choose(desk.preferences.units)
        self.units.chosen.connect(self._units)
        self.body.addWidget(words("Look", "heading"))
        self.body.addWidget(self.theme)
        self.body.addWidget(words("Text size (Ctrl and + or −)", "heading"))
        self.body.addWidget(self.text)
        self.body.addWidget(words("Units shown; either may be typed", "heading"))
        self.body.addWidget(self.units)
        self.sound = Choice("alarm sound")
        self.sound.offer((("short", "once", -1), ("long", "three times", -1)))
        self.sound.choose(desk.preferences.sound)
        self.sound.chosen.connect(self._sound)
        hear = button("Hear it", lambda: desk.sound.ring(desk.preferences.sound), "link")
        self.body.addWidget(words("An alarm sounds, each time it rings", "heading"))
        line = row(self.sound, hear)
        line.setStretch(0, 1)
        self.body.addLayout(line)
        self.letters = Choice("single keys")
        self.letters.offer((("on", "at work", -1), ("off", "off", -1)))
        self.letters.choose(desk.preferences.letters)
        self.letters.chosen.connect(self._letters)
        self.body.addWidget(words("Single letters and digits as keys of a page (F1)", "heading"))
        self.body.addWidget(self.letters)
        self.body.addWidget(words("Journal", "heading"))
        self.body.addWidget(words(str(desk.journal.folder), "quiet"))
        for said in self._of_the_journal():
            self.body.addWidget(words(said))
        self.body.addLayout(
            row(
                button("Back up now", self._back_up),
                button("Restore a backup…", lambda: desk.go("restore")),
                button("Write a ZIP…", self._write_zip),
                None,
            )
        )
        self.body.addLayout(
            row(button("Open or make a journal", lambda: desk.go("journals")), None)
        )

    def _of_the_journal(self) -> list[str]:
        """Return what a cook should know of the journal, a line each."""
        journal = self._desk.journal
        kept = journal.backups.kept()
        from pitjournal.ui.keeping.backups_list import when

        lines = [f"Last backup: {when(kept[0])}." if kept else "There is no backup yet."]
        lines += [place_of(journal.folder).words] if place_of(journal.folder).words else []
        if journal.why_read_only is not None:
            lines.append(" ".join(journal.why_read_only))
        out = taken_out_words(journal.database.taken_out)
        lines += [out] if out else []
        missed = len(journal.database.missed)
        if missed:
            what = (
                "1 record cannot be read and is"
                if missed == 1
                else f"{missed} cannot be read and are"
            )
            lines.append(f"{what} left out: pitjournal check names what cannot be read.")
        return lines

    def _theme(self, name: object) -> None:
        look().choose(str(name))
        self._desk.prefer(replace(self._desk.preferences, theme=str(name)))

    def _text(self, size: object) -> None:
        look().choose_text(str(size))
        self._desk.prefer(replace(self._desk.preferences, text=str(size)))

    def _show_text(self) -> None:
        self.text.choose(look().text)

    def _sound(self, name: object) -> None:
        self._desk.prefer(replace(self._desk.preferences, sound=str(name)))

    def _letters(self, name: object) -> None:
        self._desk.prefer(replace(self._desk.preferences, letters=str(name)))

    def _units(self, name: object) -> None:
        self._desk.prefer(replace(self._desk.preferences, units=str(name)))

    def _back_up(self) -> None:
        def work(_progress: Progress) -> Path:
            return self._desk.journal.backups.make("by-hand").path

        self._run("Back up", work)

    def _write_zip(self) -> None:
        name, _ = save_file(
            self,
            FileKind.BACKUPS,
            "Write the journal as one ZIP file",
            "journal.zip",
            "ZIP (*.zip)",
        )
        if not name:
            return

        def work(_progress: Progress) -> Path:
            return backup(self._desk.journal.database, Path(name))

        self._run("Write a ZIP", work)

    def _run(self, label: str, work: Callable[[Progress], Path]) -> None:
        def done(path: Path) -> None:
            self._desk.bridge.told.emit(f"Backed up to {path}")

        self._desk.bridge.run(label, work, done, asker=self._desk)
        self.close_panel()


class JournalsPanel(Overlay):
    """Open a journal, or make one: a journal is a folder."""

    def __init__(self, desk: Desk, over: QWidget) -> None:
        super().__init__(over, "Journals", 680)
        self._desk = desk
        text = "A journal is a folder. Copying the folder copies the journal."
        self.body.addWidget(words(text))
        self.folder = QLineEdit(str(desk.journal.folder.absolute().parent / "New journal"))
        self.folder.setAccessibleName("folder of the journal")
        self.folder.returnPressed.connect(self._open)
        self.body.addLayout(row(self.folder, button("Choose…", self._choose)))
        self.problem = Problem()
        self.body.addWidget(self.problem)
        self.body.addLayout(
            row(
                button("Open it", self._open, "primary"),
                button("Make a new journal there", self._make),
                None,
            )
        )
        recent = [name for name in desk.preferences.recent if is_there(name)]
        if recent:
            self.body.addWidget(words("Opened before", "heading"))
        for name in recent[:6]:
            self.body.addWidget(button(name, self._opener(name), "link"))

    def open_panel(self, first: QWidget | None = None) -> None:
        """Show it with the folder ready."""
        super().open_panel(first or self.folder)
        self.folder.selectAll()

    def _opener(self, name: str) -> Callable[[], None]:
        def take() -> None:
            self.close_panel()
            self._desk.opening.emit(name, False)

        return take

    def _choose(self) -> None:
        chosen = open_folder(self, FileKind.JOURNALS, "Folder of the journal")
        if chosen:
            self.folder.setText(chosen)

    def _typed(self) -> Path | None:
        try:
            return typed_path(self.folder.text())
        except JournalError as error:
            self.problem.say(str(error))
            return None

    def _open(self) -> None:
        path = self._typed()
        if path is None:
            return
        if not journal_is_in(path):
            self.problem.say(
                "There is no journal in that folder. Make a new one there, or choose another."
            )
            return
        self._opener(str(path))()

    def _make(self) -> None:
        path = self._typed()
        if path is None:
            return
        if journal_is_in(path):
            self.problem.say("There is a journal in that folder already. Open it instead.")
            return
        if not may_be_made_in(path):
            self.problem.say("That folder holds other things. Name an empty or a new one.")
            return
        self.close_panel()
        self._desk.opening.emit(str(path), True)


def open_demonstration(desk: Desk) -> None:
    """Open the demonstration, which is made first if it is not there."""

    def work(progress: Progress) -> str:
        from pitjournal.journal.demonstration import ensure_demonstration

        folder = demonstration_folder()
        ensure_demonstration(folder, progress.report)
        return str(folder)

    def done(made: str) -> None:
        desk.opening.emit(made, False)

    desk.bridge.run("Make the demonstration: invented cooks", work, done, asker=desk)


def _settings(desk: Desk, over: QWidget, _cook: str) -> Overlay:
    return SettingsPanel(desk, over)


def _journals(desk: Desk, over: QWidget, _cook: str) -> Overlay:
    return JournalsPanel(desk, over)


def _restore(desk: Desk, over: QWidget, _cook: str) -> Overlay:
    from pitjournal.ui.keeping.restore_panel import RestorePanel

    return RestorePanel(desk, over)


def _demonstration(desk: Desk, _over: QWidget, _cook: str) -> None:
    open_demonstration(desk)


def _probe_file(desk: Desk, over: QWidget, cook_id: str) -> None:
    from pitjournal.ui.bench.probes.probe_panel import choose_and_read

    choose_and_read(desk, over, cook_id)


def _probe_files(desk: Desk, over: QWidget, cook_id: str) -> Overlay:
    from pitjournal.ui.bench.probes.probe_files import ProbeFilesPanel

    return ProbeFilesPanel(over, desk, cook_id)


def _trace_says(desk: Desk, over: QWidget, cook_id: str) -> Overlay:
    from pitjournal.ui.cook.trace_says import TraceSaysPanel

    return TraceSaysPanel(over, desk, desk.seen(desk.journal.whole(cook_id)))


def _share(desk: Desk, over: QWidget, cook_id: str) -> Overlay:
    from pitjournal.ui.findings.share_panel import SharePanel

    return SharePanel(desk, over, cook_id)


PANELS: Mapping[str, Maker] = {
    "settings": _settings,
    "journals": _journals,
    "restore": _restore,
    "demonstration": _demonstration,
    "probe file": _probe_file,
    "probe files": _probe_files,
    "what traces say": _trace_says,
    "share": _share,
}
