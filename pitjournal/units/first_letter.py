"""How a sentence begins."""


def capital(text: str) -> str:
    """Return a text with a capital at its head, and all else as it is."""
    return text[:1].upper() + text[1:]
