"""Write a file for a panel: its bytes made and written by the worker, whole or not at all."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtWidgets import QAbstractButton

from pitjournal.files.writing import write_bytes
from pitjournal.journal.jobs import Progress
from pitjournal.ui.bridge import is_there
from pitjournal.ui.desk import Desk
from pitjournal.ui.files_asked import FileKind, note
from pitjournal.ui.look.parts.overlay import Overlay
from pitjournal.ui.look.parts.words import Problem


def write_file(  # noqa: PLR0917 - who asks, what for, and where it goes
    desk: Desk,
    panel: Overlay,
    problem: Problem,
    presses: QAbstractButton,
    kind: FileKind,
    target: Path,
    make: Callable[[Progress], bytes],
    *,
    closes: bool = True,
    label: str = "Write a file",
) -> None:
    """Make a file's bytes on the worker and write them; say where, or why not.

    Parameters
    ----------
    desk
        Who waits: what was to be written is written though the panel is closed meanwhile.
    panel, problem, presses
        The panel, the line on it that says what went wrong, and the button that waits.
    kind, target, make
        What is written, and so which folder is proposed the next time; the file; and what makes
        its bytes, on the worker. Qt's fonts are loaded before.
    closes, label
        Whether the panel is done then, and what the job is called.
    """
    bridge = desk.bridge

    def work(progress: Progress) -> None:
        data = make(progress)
        progress.report(1.0)
        write_bytes(target, data)

    def done(_: None) -> None:
        if is_there(panel):
            problem.say("")
            if closes:
                panel.close_panel()
        note(kind, target)
        bridge.told.emit(f"Written to {target}")

    def failed(why: str) -> None:
        if is_there(panel):
            problem.say(why)
        else:
            bridge.refused.emit(f"Not written to {target}: {why}")

    def ended() -> None:
        if is_there(panel):
            presses.setEnabled(True)

    presses.setEnabled(False)
    bridge.run(label, work, done, failed, asker=desk, ended=ended)
