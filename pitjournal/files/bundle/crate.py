"""The description of a bundle as RO-Crate 1.1 metadata (https://w3id.org/ro/crate/1.1)."""

import json
from collections.abc import Iterator, Sequence
from typing import Any

from pitjournal import __version__
from pitjournal.files.bundle.content import METADATA, Bundle, Entry, Written

_CONTEXT = ["https://w3id.org/ro/crate/1.1/context", {"sha256": "https://schema.org/sha256"}]

_LICENCE = "#no-licence"
_PROGRAM = "#pitjournal"


def crate(
    bundle: Bundle,
    entries: Sequence[tuple[Entry, Sequence[Written]]],
    files: Sequence[Written],
) -> bytes:
    """Return `ro-crate-metadata.json`: every folder and file, with its size and SHA-256.

    Parameters
    ----------
    bundle
        Title, words and day.
    entries
        Each cook with its files.
    files
        The files that belong to no cook: the tables and their description.
    """
    graph = [_descriptor(), _root(bundle, entries, files), *_others()]
    graph += [_file(file) for file in files]
    for entry, parts in entries:
        graph.append(_dataset(entry, parts))
        graph += [_file(part) for part in parts]
    described = {"@context": _CONTEXT, "@graph": graph}
    return json.dumps(described, ensure_ascii=False, indent=1).encode()


def _descriptor() -> dict[str, Any]:
    return {
        "@id": METADATA,
        "@type": "CreativeWork",
        "about": {"@id": "./"},
        "conformsTo": {"@id": "https://w3id.org/ro/crate/1.1"},
        "sdPublisher": {"@id": _PROGRAM},
    }


def _root(
    bundle: Bundle, entries: Sequence[tuple[Entry, Sequence[Written]]], files: Sequence[Written]
) -> dict[str, Any]:
    parts = [_id(file.path) for file in files]
    for entry, own in entries:
        parts += [_id(f"{entry.folder}/"), *(_id(part.path) for part in own)]
    return {
        "@id": "./",
        "@type": "Dataset",
        "name": bundle.title,
        "description": bundle.words,
        "datePublished": bundle.made_at.date().isoformat(),
        "license": {"@id": _LICENCE},
        "hasPart": [{"@id": part} for part in parts],
    }


def _others() -> Iterator[dict[str, Any]]:
    yield {
        "@id": _LICENCE,
        "@type": "CreativeWork",
        "name": "No licence is given",
        "description": "Ask whoever shared these cooks what may be done with them.",
    }
    yield {
        "@id": _PROGRAM,
        "@type": "Organization",
        "name": "Pitjournal",
        "description": f"Written by Pitjournal {__version__}.",
    }


def _dataset(entry: Entry, parts: Sequence[Written]) -> dict[str, Any]:
    return {
        "@id": _id(f"{entry.folder}/"),
        "@type": "Dataset",
        "name": entry.name,
        "description": entry.words,
        "dateCreated": entry.day,
        "hasPart": [{"@id": _id(part.path)} for part in parts],
    }


def _file(file: Written) -> dict[str, Any]:
    found = {
        "@id": _id(file.path),
        "@type": "File",
        "name": file.name,
        "encodingFormat": file.media_type,
        "contentSize": str(file.size),
        "sha256": file.sha256,
    }
    return {**found, "description": file.words} if file.words else found


def _id(path: str) -> str:
    """Return what a path is called in the description: our names need no escapes."""
    return f"./{path}"
