"""Long work on one worker thread: frozen input and progress in, a frozen result out."""

import threading
from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from typing import Generic, TypeVar

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


class Jobs:
    """One worker, so that jobs never race; workers never write to the journal."""

    def __init__(self) -> None:
        self._pool: ThreadPoolExecutor | None = None

    def start(self, label: str, work: Callable[[Progress], T]) -> Job[T]:
        """Start the work; its result, or its error, is in the job's `future`."""
        if self._pool is None:
            self._pool = ThreadPoolExecutor(max_workers=1, thread_name_prefix="job")
        progress = Progress()
        return Job(label, progress, self._pool.submit(work, progress))

    def close(self) -> None:
        """Wait for the work under way; drop what has not begun."""
        if self._pool is not None:
            self._pool.shutdown(wait=True, cancel_futures=True)
            self._pool = None
