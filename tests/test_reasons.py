"""What is excused from a rule says why, where it stands."""

import re
from pathlib import Path

ROOT = Path(__file__).parents[1]
EXCUSED = re.compile(r"#\s*(noqa|type:\s*ignore)\b(?P<rest>.*)")
WHY = re.compile(r"[\w\s:,\[\]-]*?( - | # )\S")


def test_that_each_exception_from_a_rule_of_the_linter_has_its_reason() -> None:
    bare = [
        f"{path.relative_to(ROOT)}:{number}"
        for folder in ("pitjournal", "tests")
        for path in sorted((ROOT / folder).rglob("*.py"))
        if path != Path(__file__)
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1)
        if (found := EXCUSED.search(line)) and found[1] == "noqa" and not WHY.match(found["rest"])
    ]
    assert not bare
