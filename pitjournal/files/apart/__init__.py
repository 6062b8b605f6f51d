"""Read a stranger's file in a process of its own, with limits on memory and time.

A spreadsheet of a kilobyte can unpack to sixteen thousand million cells, and a damaged picture
can end the library that reads it. Whatever becomes of that process, the program lives on and
says in one line what the file did. The process is kept, so that the next file finds it warm.
"""

from pitjournal.files.apart.calls import (
    MEMORY,
    SECONDS,
    ReadingLimits,
    close,
    prepare,
    read_apart,
    tidy,
)

__all__ = ["MEMORY", "SECONDS", "ReadingLimits", "close", "prepare", "read_apart", "tidy"]
