"""The one class of error that is the user's to mend; anything else is a bug."""


class JournalError(Exception):
    """A problem the cook can do something about.

    It is caught in two places only: the window and the command line.

    Parameters
    ----------
    message
        What is wrong, and where, in a cook's words.
    hint
        What to do about it; may be empty.
    """

    def __init__(self, message: str, hint: str = "") -> None:
        super().__init__(message)
        self.message = message
        self.hint = hint

    def __str__(self) -> str:
        return f"{self.message} {self.hint}".rstrip()
