"""Find a file of `resources/`, whether installed in a wheel or run from a checkout."""

from pathlib import Path

_PACKAGE = Path(__file__).parent


def resource_path(name: str) -> Path:
    """Return the path of the resource called `name`, such as ``"fonts/OFL.txt"``.

    Raises
    ------
    FileNotFoundError
        If neither the wheel nor the checkout has it.
    """
    for folder in (_PACKAGE / "_resources", _PACKAGE.parent / "resources"):
        path = folder / name
        if path.exists():
            return path
    raise FileNotFoundError(name)
