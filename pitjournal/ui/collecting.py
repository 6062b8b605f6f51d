"""Garbage is collected on the window's thread alone.

Python collects wherever an allocation happens to set it off, also on the worker. A window that was
closed is such garbage, held together by its own connections: its widgets and timers would die on a
thread that is not theirs, which Qt does not bear.
"""

import gc

from PySide6.QtCore import QCoreApplication, QObject, QTimer

EVERY = 250
"""Milliseconds between looks."""


class Collector(QObject):
    """Collects garbage in the turns of an application's event loop, as often as Python would."""

    def __init__(self, application: QCoreApplication) -> None:
        super().__init__(application)
        gc.disable()
        self._timer = QTimer(self, interval=EVERY)
        self._timer.timeout.connect(self.look)
        self._timer.start()

    @staticmethod
    def look() -> None:
        """Collect the oldest generation whose turn it is."""
        gc.disable()
        for generation in (2, 1, 0):
            if gc.get_count()[generation] > gc.get_threshold()[generation]:
                gc.collect(generation)
                return


def collect_later() -> None:
    """Have nothing collected until `collect_here`: while all is loaded and made, all is needed.

    Looked through again and again while it grows, it costs a tenth of the start.
    """
    gc.disable()


def collect_here() -> None:
    """Have garbage collected on the application's thread from now on; nothing without one."""
    application = QCoreApplication.instance()
    if application is not None and application.findChild(Collector) is None:
        Collector(application)


def collect_all() -> None:
    """Collect what is left of a window that is closed: megabytes of objects that hold each other.

    What the next window puts beyond the reach of the garbage collector (`later.Ahead`) may have
    them in it, so they are looked for in all there is.
    """
    gc.unfreeze()
    gc.collect()
    gc.freeze()
