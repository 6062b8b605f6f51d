"""What the check runs: nothing that needs the window's library is left out of it."""

import re
from pathlib import Path

TESTS = Path(__file__).parents[1]
ROOT = TESTS.parent
ASKS_FOR_QT = re.compile(r"importorskip\(\"PySide6|find_spec\(\"PySide6")


def test_what_is_skipped_without_qt_is_run_with_it() -> None:
    check = (ROOT / "packaging" / "test.sh").read_text(encoding="utf-8")
    with_qt = [
        ROOT / path for path in re.findall(r"tests/[\w/.]+", check.split("--dist loadfile")[1])
    ]
    assert all(path.exists() for path in with_qt)

    asking = [
        file
        for file in TESTS.rglob("test_*.py")
        if file != Path(__file__) and ASKS_FOR_QT.search(file.read_text(encoding="utf-8"))
    ]
    assert asking, "nothing is skipped for want of Qt any more: run everything once"

    left_out = [
        file.relative_to(ROOT).as_posix()
        for file in asking
        if not any(file.is_relative_to(path) for path in with_qt)
    ]
    assert left_out == []
