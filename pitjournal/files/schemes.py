"""Read the scoring schemes that come with the program: `resources/schemes`."""

import json
from functools import cache

from pitjournal.domain.scheme import Scheme, rules_from
from pitjournal.resource_files import resource_path

USUAL = "home-panel-1"
"""The scheme a tasting starts with where none is chosen."""


@cache
def shipped_schemes() -> tuple[Scheme, ...]:
    """Return the schemes that come with the program, in the order they are offered."""
    kept = json.loads(resource_path("schemes/schemes.json").read_text(encoding="utf-8"))
    return tuple(Scheme(**{**one, "rules": rules_from(one["rules"]).as_map()}) for one in kept)


def shipped(scheme_id: str) -> Scheme:
    """Return one that comes with the program.

    Raises
    ------
    KeyError
        If there is none of that id.
    """
    for scheme in shipped_schemes():
        if scheme.id == scheme_id:
            return scheme
    raise KeyError(scheme_id)
