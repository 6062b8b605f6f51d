"""A plug-in of pytest that notes which functions of the program each test calls.

    python -m pytest -p tests.benchmarks.mutants.reach --reach FILE tests/science …

Calls alone are noted, not lines, so that a test takes little longer. What a shared fixture called
counts for every test that uses it.
"""

import json
import sys
import threading
import time
from collections.abc import Iterator
from pathlib import Path
from types import CodeType, FrameType

import pytest

ROOT = Path(__file__).resolve().parents[3]
PACKAGE = f"{ROOT / 'pitjournal'}/"


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--reach", metavar="FILE", type=Path, required=True)


def pytest_configure(config: pytest.Config) -> None:
    config.pluginmanager.register(_Reach(config.getoption("--reach")))


class _Reach:
    def __init__(self, target: Path) -> None:
        self.target = target
        self.seconds: dict[str, float] = {}
        self.called: dict[str, set[CodeType]] = {}
        self.shared: dict[str, set[CodeType]] = {}
        self.uses: dict[str, tuple[str, ...]] = {}
        self.failed: set[str] = set()
        self._now: set[CodeType] = set()

    def _trace(self, frame: FrameType, event: str, _: object) -> None:
        if event == "call":
            self._now.add(frame.f_code)

    @pytest.hookimpl(wrapper=True)
    def pytest_fixture_setup(
        self, fixturedef: pytest.FixtureDef[object]
    ) -> Iterator[None]:  # what pytest calls a wrapper gives back what it was sent
        before, self._now = self._now, set()
        try:
            return (yield)
        finally:
            if fixturedef.scope != "function":
                self.shared.setdefault(fixturedef.argname, set()).update(self._now)
            self._now |= before

    @pytest.hookimpl(wrapper=True)
    def pytest_runtest_protocol(self, item: pytest.Item) -> Iterator[None]:
        self._now, begun = set(), time.process_time()
        threading.settrace(self._trace)
        sys.settrace(self._trace)
        try:
            return (yield)
        finally:
            sys.settrace(None)
            threading.settrace(None)
            self.seconds[item.nodeid] = time.process_time() - begun
            self.called[item.nodeid] = self._now
            self.uses[item.nodeid] = tuple(getattr(item, "fixturenames", ()))

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        if not report.passed:
            self.failed.add(report.nodeid)

    def pytest_sessionfinish(self) -> None:
        tests = [test for test in self.called if test not in self.failed]
        reached: dict[str, list[int]] = {}
        for number, test in enumerate(tests):
            shared = (self.shared.get(name, set()) for name in self.uses[test])
            for place in {_place(code) for code in self.called[test].union(*shared)} - {""}:
                reached.setdefault(place, []).append(number)
        found = {"tests": [[test, self.seconds[test]] for test in tests], "reached": reached}
        self.target.write_text(json.dumps(found))


def _place(code: CodeType) -> str:
    if not code.co_filename.startswith(PACKAGE):
        return ""
    return f"{code.co_filename.removeprefix(PACKAGE)}:{code.co_firstlineno}"
