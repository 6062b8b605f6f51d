"""Long work on one worker thread: frozen input and progress in, a frozen result out."""

import threading
from collections import deque
from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass
from typing import Any, Generic, TypeVar

T = TypeVar("T")


class CancelledJobError(Exception):
    """The cook changed his mind; raised inside the work at its next report of progress."""


class Progress:
    """How far a job is, and whether it is still wanted.

    Attributes
    ----------
    fraction
        0 to 1, or None while unknown.
    words
        What is being done.
    """

    def __init__(self) -> None:
        self.fraction: float | None = None
        self.words = ""
        self._cancelled = threading.Event()

    def report(self, fraction: float | None, words: str = "") -> None:
        """Say how far the work is.

        Raises
        ------
        CancelledJobError
            If the job was cancelled.
        """
        if self._cancelled.is_set():
            raise CancelledJobError
        self.fraction = fraction
        self.words = words or self.words

    def cancel(self) -> None:
        """Ask the work to stop."""
        self._cancelled.set()


class Job(Generic[T]):
    """Work under way."""

    def __init__(self, label: str, progress: Progress, future: "Future[T]") -> None:
        self.label = label
        self.progress = progress
        self.future = future

    @property
    def stopped(self) -> bool:
        """Whether it ended because the cook changed his mind."""
        gone = self.future.cancelled()
        return gone or isinstance(self.future.exception(), CancelledJobError)

    def cancel(self) -> None:
        """Stop it, at once when it has not begun, else at its next report."""
        self.progress.cancel()
        self.future.cancel()


@dataclass(frozen=True)
class _Kept:
    """A job with the work it does, and all that this work holds."""

    job: Job[Any]
    work: Callable[[Progress], object]


def _do(kept: _Kept) -> None:
    """Do the work of a job, unless it was cancelled before."""
    if not kept.job.future.set_running_or_notify_cancel():
        return
    try:
        result = kept.work(kept.job.progress)
    except BaseException as error:  # noqa: BLE001 - raised where the job is asked
        kept.job.future.set_exception(error)
        del kept  # or the error would hold this frame, which holds the error
    else:
        kept.job.future.set_result(result)


class Jobs:
    """One worker, so that jobs never race; workers never write to the journal.

    Whoever starts a job keeps its work, its result and its error until the worker has let go of
    them: a window's parts may be among them, and what is held last by the worker would die there.
    So all but what runs is called on one thread.
    """

    def __init__(self) -> None:
        self._pool: ThreadPoolExecutor | None = None
        self._kept: dict[int, _Kept] = {}
        self._over: deque[int] = deque()
        self._number = 0

    def start(self, label: str, work: Callable[[Progress], T]) -> Job[T]:
        """Start the work; its result, or its error, is in the job's `future`."""
        if self._pool is None:
            self._pool = ThreadPoolExecutor(max_workers=1, thread_name_prefix="job")
        self.sweep()
        job: Job[T] = Job(label, Progress(), Future())
        self._number += 1
        self._kept[self._number] = _Kept(job, work)
        self._pool.submit(self._do, self._number)
        return job

    def _do(self, number: int) -> None:
        _do(self._kept[number])  # no name of this frame holds it
        self._over.append(number)

    def sweep(self) -> None:
        """Let go of what the worker has let go of."""
        while self._over:
            del self._kept[self._over.popleft()]

    def close(self) -> None:
        """Wait for the work under way; drop what has not begun."""
        if self._pool is not None:
            self._pool.shutdown(wait=True, cancel_futures=True)
            self._pool = None
        for kept in self._kept.values():
            kept.job.cancel()
        self._kept.clear()
        self._over.clear()
