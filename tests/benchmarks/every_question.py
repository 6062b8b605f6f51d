"""Ask Trends every question on the demonstration: each measure by each variable.

    python -m tests.benchmarks.every_question                   all of them: minutes
    python -m tests.benchmarks.every_question --sample 200 --seed 7
    python -m tests.benchmarks.every_question --units metric --size 1024x700

Each is asked and painted in the real page and timed. It exits 1 where one raises, takes longer
than a second, or shows words that cannot be read in full.
"""

import argparse
import os
import random
import signal
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from types import FrameType, TracebackType
from typing import cast

from PySide6.QtWidgets import QApplication

from pitjournal.analysis.trends.language.written import write_sentence
from pitjournal.analysis.trends.question import By, Part, Question
from pitjournal.domain.catalogue import Catalogue, Kind
from pitjournal.journal.demonstration import make_demonstration
from pitjournal.journal.preferences import Preferences
from pitjournal.ui.start import Shell
from pitjournal.ui.trends.page import TrendsPage
from tests.ui.clipped import Fault, faults_in

TOO_LONG = 1.0
"""A question that takes so long hangs, s."""

NEVER = 20.0
"""What takes so long is stopped, s."""

SHOWN = 25
"""So many of what is wrong are printed."""


@dataclass
class Found:
    """What came of asking.

    Attributes
    ----------
    times
        How long each question kept the window until it was painted, s of the processor's time,
        by its sentence.
    wrong
        What was wrong, by the sentence it was wrong with.
    """

    times: dict[str, float] = field(default_factory=dict)
    wrong: list[tuple[str, str]] = field(default_factory=list)

    def tell(self) -> str:
        """Return it in lines."""
        times = sorted(self.times.values())
        lines = []
        if times:
            lines.append(
                f"{len(times)} questions: half in {1e3 * times[len(times) // 2]:.0f} ms, "
                f"the longest {1e3 * times[-1]:.0f} ms"
            )
        kinds = Counter(what.split(":")[0] for _, what in self.wrong)
        lines += [f"  {count} × {kind}" for kind, count in kinds.most_common()]
        lines += [f"{sentence}\n    {what}" for sentence, what in self.wrong[:SHOWN]]
        return "\n".join(lines)


def every_question(catalogue: Catalogue) -> Iterator[Question]:
    """Yield each measure alone, by each variable, and by each part of the date."""
    ways = [By("date", part) for part in Part]
    ways += [
        By(variable.key)
        for variable in catalogue.values()
        if variable.kind not in {Kind.WORDS, Kind.TIME}
    ]
    for variable in catalogue.values():
        if variable.measure:
            yield Question(variable.key)
            for by in ways:
                yield Question(variable.key, (by,))


def ask(page: TrendsPage, questions: Sequence[Question]) -> Found:
    """Ask questions one after the other, and look at what is painted."""
    found, desk = Found(), page.desk
    for question in questions:
        sentence = write_sentence(question, desk.catalogue, desk.system)
        with _faults(lambda what, sentence=sentence: found.wrong.append((sentence, what))):  # type: ignore[misc]
            started = time.thread_time()
            page.ask(question)
            QApplication.processEvents()
            took = time.thread_time() - started
            _settle(page)
            clipped = faults_in(page)
        found.times[sentence] = took
        problem = page.ask_line.problem.text()
        if problem:
            found.wrong.append((sentence, f"it was not answered: {problem}"))
        if took > TOO_LONG:
            found.wrong.append((sentence, f"it took too long: {took:.1f} s"))
        found.wrong += [(sentence, f"words are {_kind(fault)}: {fault}") for fault in clipped]
    return found


def _kind(fault: Fault) -> str:
    return str(fault.sort)


def _settle(page: TrendsPage) -> None:
    """Wait for what takes longer than a frame, and let the page lie as it will."""
    end = time.monotonic() + NEVER
    while page.judged is None and time.monotonic() < end:
        QApplication.processEvents()
        time.sleep(0.001)
    for _ in range(3):
        page.grab()
        QApplication.processEvents()


@contextmanager
def _faults(take: Callable[[str], None]) -> Iterator[None]:
    """Hear of what is raised while this lasts, also in a paint event, and stop what hangs."""

    def raised(
        kind: type[BaseException], error: BaseException, _trace: TracebackType | None
    ) -> None:
        take(f"it failed: {kind.__name__} {error}")

    def hangs(_signal: int, _frame: FrameType | None) -> None:
        message = f"it did not return within {NEVER:g} s"
        raise TimeoutError(message)

    hook, before = sys.excepthook, signal.signal(signal.SIGALRM, hangs)
    sys.excepthook = raised
    signal.setitimer(signal.ITIMER_REAL, NEVER)
    try:
        yield
    except Exception as error:  # noqa: BLE001 - whatever it is, it is told with its question
        take(f"it failed: {type(error).__name__} {error}")
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0)
        signal.signal(signal.SIGALRM, before)
        sys.excepthook = hook


def open_page(application: QApplication, folder: Path, units: str, size: str) -> TrendsPage:
    """Open Trends on a journal, with all its cooks read."""
    shell = Shell(application, Preferences(theme="light", units=units))
    shell.open(str(folder))
    assert shell.window is not None
    width, height = (int(part) for part in size.split("x"))
    shell.window.resize(width, height)
    shell.window.show()
    shell.window.go("trends")
    page = cast("TrendsPage", shell.window.place)
    page.desk.journal.trends.frame()
    _settle(page)
    return page


def main() -> int:
    """Ask, and say what was wrong."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.every_question")
    parser.add_argument("--sample", type=int, metavar="N", help="ask only so many, by lot")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--units", choices=("us", "metric"), default="us")
    parser.add_argument("--size", default="1280x800")
    arguments = parser.parse_args()
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    with tempfile.TemporaryDirectory() as name:
        os.environ["PITJOURNAL_SETTINGS"] = str(Path(name) / "settings.json")
        folder = Path(name) / "demonstration"
        make_demonstration(folder).close()
        page = open_page(QApplication([]), folder, arguments.units, arguments.size)
        questions = list(every_question(page.desk.catalogue))
        if arguments.sample is not None:
            lot = random.Random(arguments.seed)
            questions = lot.sample(questions, min(arguments.sample, len(questions)))
        found = ask(page, questions)
        page.window().close()
    sys.stdout.write(found.tell() + "\n")
    return 1 if found.wrong else 0


if __name__ == "__main__":
    raise SystemExit(main())
