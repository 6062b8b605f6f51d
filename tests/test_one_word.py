"""One word for one thing in all that a cook reads."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pitjournal

SOURCE = Path(pitjournal.__file__).parent
FOLDERS = ("ui", "analysis", "cli", "files", "journal")

USUAL = (
    "way round",
    "either way",
    "another way",
    "half way",
    "half-way",
    "by way of",
    "under way",
    "three ways with nine racks",  # a title, in a cook's own words
    '"ways", "all"',  # a key of the answer as JSON, and what is said of it
    "ways are all there are",
    "both ways counted",
    "every way the lot",
    "ways drawn by lot",
    "ways; ",
    "every way of ranking",
    "ways to set the portions",
    "ways to group",
    "no way to",
    "other way",  # a treatment that is none of the usual
)
"""What "way" is good for besides a group that is treated alike: that is an arm."""

FORBIDDEN = {
    r"\bways?\b": "arm",
    r"\bstopping rule\b": "stop rule",
    r"\bdismiss\b": "close",
    r"\btreatment group\b": "arm",
    r"(?:%|per cent|percent)[ -]points?\b|\bpoints? of (?:%|per ?cent)": "percentage points",
    r"\bpercentage\b(?! points?\b)": "share; a difference of shares is in percentage points",
}


def read_by_cooks() -> Iterator[tuple[str, str]]:
    """Yield where each text stands, and the text: sentences, not keys nor comments."""
    for folder in FOLDERS:
        for path in sorted((SOURCE / folder).rglob("*.py")):
            for line, text in sentences(path.read_text(encoding="utf-8")):
                yield f"{path.relative_to(SOURCE)}:{line}", text
    for path in sorted((SOURCE.parent / "resources" / "manual").glob("*.txt")):
        for number, text in enumerate(path.read_text(encoding="utf-8").splitlines(), start=1):
            yield f"{path.name}:{number}", text


def sentences(source: str) -> Iterator[tuple[int, str]]:
    tree = ast.parse(source)
    told = {id(n.value) for n in ast.walk(tree) if isinstance(n, ast.Expr)}  # documentation
    for node in ast.walk(tree):
        if not isinstance(node, ast.Constant) or id(node) in told:
            continue
        if isinstance(node.value, str) and " " in node.value.strip():  # one word is a key
            yield node.lineno, node.value


def test_that_one_word_stands_for_one_thing() -> None:
    found = []
    for where, text in read_by_cooks():
        plain = text.casefold()
        for usual in USUAL:
            plain = plain.replace(usual, "")
        found += [
            f"{where}: “{text.strip()}”: say {word}"
            for pattern, word in FORBIDDEN.items()
            if re.search(pattern, plain)
        ]
    assert not found, "\n".join(found)


def test_that_a_sentence_is_found_and_a_key_or_a_comment_is_not() -> None:
    source = '"""Two ways."""\n# two ways\nkey = "way"\nsaid = f"Compare now {key} two ways"\n'
    assert [text for _, text in sentences(source)] == ["Compare now ", " two ways"]
