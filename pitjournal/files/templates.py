"""The templates of `resources/templates`, filled in."""

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from pitjournal.resource_files import resource_path


def template_environment() -> Environment:
    """Return a fresh environment: everything is escaped, and a missing name is a bug."""
    return Environment(
        loader=FileSystemLoader(resource_path("templates")),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
