"""What the tables of a bundle hold, as a Frictionless data package (specs.frictionlessdata.io)."""

import json
from collections.abc import Sequence
from pathlib import PurePosixPath
from typing import Any

from pitjournal.files.bundle.content import TABLES, VERSION, Bundle, Column, Written

GUARDED = (
    "A text that begins with = + - @ ' or a tab has an apostrophe before it, so that no "
    "spreadsheet takes it for a formula; the apostrophe is no part of the text."
)


def package(bundle: Bundle, files: Sequence[Written]) -> bytes:
    """Return `datapackage.json`: each table's columns with types and units, and what they link to.

    Parameters
    ----------
    bundle
        Title, words, and which columns are empty because what they hold stayed at home.
    files
        What was written; those with columns are tables.
    """
    tables = [file for file in files if file.columns]
    names = {file.path: _resource_name(file.path) for file in tables}
    described = {
        "profile": "tabular-data-package",
        "name": bundle.folder.lower(),
        "title": bundle.title,
        "description": f"{bundle.words} {GUARDED}",
        "created": bundle.made_at.strftime("%Y-%m-%dT%H:%M:%SZ"),
        "pitjournal": {
            "version": VERSION,
            "records": list(bundle.schema),
            "protocol": bundle.protocol,
            "left_out": {t.name: list(t.left_out) for t in bundle.tables if t.left_out},
        },
        "resources": [_resource(file, names) for file in tables],
    }
    return json.dumps(described, ensure_ascii=False, indent=1).encode()


def _resource_name(path: str) -> str:
    """Return a name that is unlike all others: that of the table, or of the file's whole path."""
    plain = PurePosixPath(path).with_suffix("")
    return plain.name if plain.parts[0] == TABLES else "-".join(plain.parts).lower()


def _resource(file: Written, names: dict[str, str]) -> dict[str, Any]:
    schema: dict[str, Any] = {"fields": [_field(column) for column in file.columns]}
    schema["missingValues"] = [""]
    if any(column.name == "id" for column in file.columns):
        schema["primaryKey"] = ["id"]
    there = set(names.values())
    links = [
        {"fields": [column], "reference": {"resource": target, "fields": ["id"]}}
        for column, target in file.links.items()
        if target in there
    ]
    if links:
        schema["foreignKeys"] = links
    return {
        "profile": "tabular-data-resource",
        "name": names[file.path],
        "title": file.words,
        "path": file.path,
        "format": "csv",
        "mediatype": "text/csv",
        "encoding": "utf-8",
        "bytes": file.size,
        "hash": f"sha256:{file.sha256}",
        "schema": schema,
    }


def _field(column: Column) -> dict[str, Any]:
    words = column.words
    if column.unit:
        words = f"{words}, {column.unit}" if words else column.unit
    found: dict[str, Any] = {"name": column.name, "type": column.kind}
    if column.kind == "datetime":
        found["format"] = "%Y-%m-%dT%H:%M:%S.%fZ"
    if words:
        found["description"] = words
    if column.needed:
        found["constraints"] = {"required": True}
    return found
