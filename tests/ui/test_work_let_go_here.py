"""On whose thread dies what the work of a job held last: a panel that was closed meanwhile."""

import threading
from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor

import pytest
from PySide6.QtCore import QObject, Qt
from pytestqt.qtbot import QtBot

from pitjournal.journal.jobs import Job, Jobs, Progress

HERE = threading.main_thread().ident


class Part(QObject):
    """A part of a window, that says where it dies."""

    def __init__(self, died_on: list[int]) -> None:
        super().__init__()
        self.destroyed.connect(
            lambda: died_on.append(threading.get_ident()), Qt.ConnectionType.DirectConnection
        )


class Scene:
    """A worker that is busy until it is told to go on, and work behind it that holds a part."""

    def __init__(self) -> None:
        self.died_on: list[int] = []
        self._go, self._busy = threading.Event(), threading.Event()

    def first(self, _progress: Progress) -> None:
        """Keep the worker busy."""
        self._busy.set()
        self._go.wait(30)

    def work(self) -> Callable[[Progress], object]:
        """Return work that holds a part, which nothing else holds."""
        part = Part(self.died_on)
        return lambda _progress: part.objectName()

    def fails(self) -> Callable[[Progress], object]:
        """Return work that fails with a part in its frame."""
        part = Part(self.died_on)

        def work(_progress: Progress) -> object:
            held = part
            raise ValueError(held.objectName())

        return work

    def gives(self) -> Callable[[Progress], object]:
        """Return work whose result is a part."""
        parts = [Part(self.died_on)]
        return lambda _progress: parts.pop()

    def wait_until_busy(self) -> None:
        """Wait until the worker is in the first work."""
        assert self._busy.wait(30)

    def go_on(self) -> None:
        """Let the worker go on."""
        self._go.set()


@pytest.fixture
def scene(qapp: object) -> Scene:
    del qapp
    return Scene()


def test_that_a_pool_alone_lets_it_die_on_its_own_thread(scene: Scene) -> None:
    with ThreadPoolExecutor(1) as pool:
        pool.submit(scene.first, Progress())
        scene.wait_until_busy()
        behind: Future[object] = pool.submit(scene.work(), Progress())
        behind.cancel()
        del behind
        scene.go_on()
    assert len(scene.died_on) == 1
    assert scene.died_on != [HERE]


@pytest.mark.parametrize("kind", ["work", "fails", "gives"])
@pytest.mark.parametrize("cancelled", [True, False])
def test_that_it_dies_where_the_job_was_started(
    qtbot: QtBot, scene: Scene, kind: str, cancelled: bool
) -> None:
    jobs = Jobs()
    jobs.start("first", scene.first)
    scene.wait_until_busy()
    behind: Job[object] | None = jobs.start("behind", getattr(scene, kind)())
    assert behind is not None
    if cancelled:
        behind.cancel()
    behind = None
    scene.go_on()

    def all_died() -> bool:
        jobs.sweep()
        return len(scene.died_on) == 1

    qtbot.waitUntil(all_died, timeout=10_000)
    assert scene.died_on == [HERE]
    jobs.close()


def test_that_what_has_not_begun_dies_here_when_the_journal_is_closed(scene: Scene) -> None:
    jobs = Jobs()
    jobs.start("first", scene.first)
    scene.wait_until_busy()
    jobs.start("behind", scene.work())
    scene.go_on()
    jobs.close()
    assert scene.died_on == [HERE]
