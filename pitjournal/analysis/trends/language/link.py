"""A question as a link, and back: whoever gets it in a summary can ask the same."""

from urllib.parse import quote, unquote

BEGINS = "pitjournal:ask?"


def link_to(sentence: str) -> str:
    """Return the link that asks a sentence (percent-encoded as RFC 3986 has it)."""
    return BEGINS + quote(sentence, safe="")


def sentence_in(text: str) -> str:
    """Return the sentence that a link asks; a text that is no link is returned as it is."""
    words = text.strip()
    return unquote(words[len(BEGINS) :]) if words.casefold().startswith(BEGINS) else text
