"""Cooks as one file that other software can read: `.eln`, a ZIP of one folder.

The folder is an RO-Crate 1.1 (https://w3id.org/ro/crate/1.1), as the ELN file format asks
(https://github.com/TheELNConsortium/TheELNFileFormat), with a Frictionless data package
(https://specs.frictionlessdata.io) beside its tables, so that they say what they hold.
"""

from pitjournal.files.bundle.content import (
    SUFFIX,
    Bundle,
    Column,
    Entry,
    Part,
    Table,
)
from pitjournal.files.bundle.reading import BundleRead, FileRead, TableRead, read_bundle
from pitjournal.files.bundle.unpacking import Unpacked
from pitjournal.files.bundle.writing import write_bundle

__all__ = [
    "SUFFIX",
    "Bundle",
    "BundleRead",
    "Column",
    "Entry",
    "FileRead",
    "Part",
    "Table",
    "TableRead",
    "Unpacked",
    "read_bundle",
    "write_bundle",
]
