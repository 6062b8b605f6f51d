"""Read the targets that come with the program: `resources/targets`."""

from functools import cache

from pitjournal.domain.targets import Target, targets_from
from pitjournal.resource_files import resource_path


@cache
def shipped_targets() -> tuple[Target, ...]:
    """Return the targets that come with the program, in the order they are shown."""
    return targets_from(resource_path("targets/targets.json").read_text(encoding="utf-8"))
