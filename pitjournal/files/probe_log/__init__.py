"""Read any temperature logger's text file: bytes in, a report out.

Nothing here knows a device. Each reading of delimiter, layout, time and unit is scored on
the whole file, and what was understood is said before anything is kept.
"""

from pitjournal.files.probe_log.moments import COUNTED_IN
from pitjournal.files.probe_log.reader import read_probe_log
from pitjournal.files.probe_log.report import Channel, Note, ProbeLog, ReadOptions, Rejected

__all__ = [
    "COUNTED_IN",
    "Channel",
    "Note",
    "ProbeLog",
    "ReadOptions",
    "Rejected",
    "read_probe_log",
]
