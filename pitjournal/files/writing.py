"""Write a text file whole or not at all."""

from pathlib import Path

from pitjournal.errors import JournalError


def write_text(target: Path, text: str) -> None:
    """Write text as it is, line ends too.

    Raises
    ------
    JournalError
        If the place cannot be written to.
    """
    part = target.with_name(target.name + ".part")
    try:
        part.write_text(text, encoding="utf-8", newline="")
        part.replace(target)
    except OSError as error:
        part.unlink(missing_ok=True)
        message = f"{target} cannot be written: {error.strerror}."
        raise JournalError(message, "Choose another place.") from error
