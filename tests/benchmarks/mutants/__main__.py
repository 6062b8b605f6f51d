"""Put small faults into the program one at a time; say how many of them a test notices.

    python -m tests.benchmarks.mutants [--sample 400] [--seed 7] [--json FILE]
    python -m tests.benchmarks.mutants --again FILE      those of FILE that no test noticed

A seeded sample of all that could be changed in science, analysis, store and journal: a comparison
by its neighbour, a sum into a difference, a number by the next, a condition turned. Each is put
into a copy of the tree, and the tests that call its function are run, the quickest first, until
one fails. Only so many seconds of tests are run for one fault, so that what is said to be noticed
is a lower bound. Exit 1 where fewer are noticed than promised. It takes an hour or more of one
core; `--reach FILE` keeps which test calls what, so that a second run begins at once, and one that
was ended goes on where `--json FILE` left off.
"""

import argparse
import io
import itertools
import json
import os
import random
import resource
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections import Counter
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import asdict
from pathlib import Path

from tests.benchmarks.mutants.sites import Site, chosen, sites_below

ROOT = Path(__file__).resolve().parents[3]
PROMISED = 0.85
LONGEST = 60.0
"""So many seconds of tests, as they took without a fault, are run for one."""

FOLDERS = ("domain", "science", "analysis", "store", "journal", "cli")
LOADED = (
    *("numpy", "scipy.stats", "scipy.optimize", "scipy.linalg", "sqlalchemy", "pint"),
    *("jinja2", "PIL.Image"),
)
COPIED = ("pitjournal", "tests", "resources", "packaging")


def main() -> int:
    """Draw, run, say."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.mutants")
    parser.add_argument("--sample", type=int, default=400)
    parser.add_argument("--seed", type=int, default=7)
    parser.add_argument(
        "--only", metavar="PATH", default="", help="begins with, as science/comparison/mixed"
    )
    parser.add_argument("--json", metavar="FILE", type=Path)
    parser.add_argument("--reach", metavar="FILE", type=Path)
    parser.add_argument("--again", metavar="FILE", type=Path)
    parser.add_argument("--longest", metavar="SECONDS", type=float, default=LONGEST)
    arguments = parser.parse_args()
    with tempfile.TemporaryDirectory(prefix="mutants-") as scratch:
        copy = Path(scratch) / "tree"
        _copy_to(copy)
        reach = arguments.reach or Path(scratch) / "reach.json"
        _compile(copy)
        if not reach.exists():
            _note_reach(copy, reach)
        drawn = _drawn(arguments, sites_below(copy / "pitjournal"))
        results = _run_all(copy, drawn, json.loads(reach.read_text()), arguments)
    return _said(results)


def _copy_to(copy: Path) -> None:
    for name in COPIED:
        shutil.copytree(ROOT / name, copy / name, ignore=shutil.ignore_patterns("__pycache__"))
    for name in ("pyproject.toml", "README.md", "DEVELOPERS.md"):
        shutil.copy(ROOT / name, copy / name)


def _compile(copy: Path) -> None:
    """Compile the copy once: what is read anew for each fault is known by its hash, not its time."""
    command = [sys.executable, "-m", "compileall", "-q", "--invalidation-mode", "checked-hash"]
    subprocess.run([*command, "pitjournal"], cwd=copy, check=False)
    gathered = [sys.executable, "-m", "pytest", "-q", "--collect-only", "-p", "no:cacheprovider"]
    own = {**_surroundings(copy), "PYTHONDONTWRITEBYTECODE": ""}  # the rewritten tests are kept too
    quiet = subprocess.DEVNULL
    folders = [f"tests/{folder}" for folder in FOLDERS]
    subprocess.run([*gathered, *folders], cwd=copy, env=own, stdout=quiet, check=False)


def _surroundings(copy: Path) -> dict[str, str]:
    own = {"PYTHONPATH": str(copy), "CI": "1", "PYTHONDONTWRITEBYTECODE": "1"}
    return {**os.environ, **own, "PITJOURNAL_SETTINGS": str(copy.parent / "settings.json")}


def _note_reach(copy: Path, target: Path) -> None:
    folders = [f"tests/{folder}" for folder in FOLDERS]
    plugin = "tests.benchmarks.mutants.reach"
    command = [sys.executable, "-m", "pytest", "-q", "-p", plugin, "--reach", str(target.resolve())]
    subprocess.run([*command, *folders], cwd=copy, env=_surroundings(copy), check=False)


def _drawn(arguments: argparse.Namespace, sites: list[Site]) -> list[Site]:
    if arguments.again is not None:
        known = json.loads(arguments.again.read_text())
        wanted = [(s["path"], s["function"], s["nth"]) for s, noticed in known if not noticed]
        return [site for one in wanted for site in chosen(sites, one)]
    sites = [site for site in sites if site.path.startswith(arguments.only)]
    return random.Random(arguments.seed).sample(sites, min(arguments.sample, len(sites)))


Results = list[tuple[Site, str]]


def _run_all(
    copy: Path, drawn: list[Site], reach: dict[str, object], arguments: argparse.Namespace
) -> Results:
    target: Path | None = arguments.json and arguments.json.resolve()
    os.environ.update(_surroundings(copy))
    os.chdir(copy)
    sys.path[:] = [str(copy), *(path for path in sys.path if Path(path or ".") != ROOT)]
    _load()
    results = _known(target, drawn)
    _run_without(drawn, reach, arguments.longest)
    for number, site in enumerate(drawn[len(results) :], len(results) + 1):
        tests = _tests_of(site, reach, arguments.longest)
        noticed = _noticed(copy, site, tests) if tests else ""
        results.append((site, noticed))
        words = f"{noticed or 'NOT NOTICED'} · {len(tests)} tests"
        print(f"{number:>4} {site.path}:{site.line}  {site.old}  →  {site.new}  {words}")
        sys.stdout.flush()
        if target is not None:
            target.write_text(json.dumps([(asdict(one), found) for one, found in results]))
    return results


def _run_without(drawn: list[Site], reach: dict[str, object], longest: float) -> None:
    """Stop where a round without any fault does not pass: each would seem to be noticed."""
    tests = next(found for site in drawn if (found := _tests_of(site, reach, longest)))
    wrong = _forked([test for test, _ in tests], 300.0)
    if wrong:
        sys.exit(f"Without a fault the tests do not pass either: {wrong}.")


def _known(target: Path | None, drawn: list[Site]) -> Results:
    """Return what an ended run found of the first of these faults."""
    if target is None or not target.exists():
        return []
    before = {Site(**one): noticed for one, noticed in json.loads(target.read_text())}
    return [(site, before[site]) for site in itertools.takewhile(before.__contains__, drawn)]


def _load() -> None:
    """Load what every round needs and no fault is put into; rounds are forks of this process."""
    for name in LOADED:
        __import__(name)


def _tests_of(site: Site, reach: dict[str, object], longest: float) -> list[tuple[str, float]]:
    """Return the tests that call a fault's function, the quickest first; else those of its file."""
    tests, reached = reach["tests"], reach["reached"]
    assert isinstance(tests, list)
    assert isinstance(reached, dict)
    numbers = set(reached.get(f"{site.path}:{site.first}", ())) if site.first else set()
    if not numbers:  # what runs as a module loads is called by no test
        beside = (found for place, found in reached.items() if place.startswith(f"{site.path}:"))
        numbers = {number for found in beside for number in found}
    order = sorted((seconds, test) for test, seconds in (tests[number] for number in numbers))
    chosen_tests: list[tuple[str, float]] = []
    spent = 0.0
    for seconds, test in order:
        spent += seconds
        if chosen_tests and spent > longest:
            break
        chosen_tests.append((test, seconds))
    return chosen_tests


def _noticed(copy: Path, site: Site, tests: list[tuple[str, float]]) -> str:
    """Put the fault in, run the tests in a fork, take it out; return who noticed, or nothing."""
    file = copy / "pitjournal" / site.path
    whole = file.read_bytes()
    file.write_bytes(site.applied(whole))
    try:
        seconds = sum(seconds for _, seconds in tests)
        return _forked([test for test, _ in tests], 30 + 5 * seconds)
    finally:
        file.write_bytes(whole)


def _forked(tests: list[str], most: float) -> str:
    child = os.fork()
    if child == 0:
        _child(tests, most)
    ends = time.monotonic() + 20 * most
    while time.monotonic() < ends:
        done, status = os.waitpid(child, os.WNOHANG)
        if done:
            code = os.waitstatus_to_exitcode(status)
            return {0: "", 1: "failed", -signal.SIGXCPU: "endless"}.get(code, f"ended with {code}")
        time.sleep(0.05)
    os.killpg(child, signal.SIGKILL)
    os.waitpid(child, 0)
    return "stuck"


def _child(tests: list[str], most: float) -> None:
    os.setsid()
    resource.setrlimit(resource.RLIMIT_CPU, (int(most) + 1, int(most) + 2))
    for name in [name for name in sys.modules if name.split(".")[0] in {"tests", "pitjournal"}]:
        del sys.modules[name]  # what is asked is the copy, not what runs this
    import pytest  # noqa: PLC0415 - it rewrites the asserts of what is loaded after it

    code: int = 3
    try:
        with redirect_stdout(io.StringIO()), redirect_stderr(io.StringIO()):
            code = int(pytest.main(["-x", "-q", "-p", "no:cacheprovider", *tests]))
    finally:
        os._exit(code)


def _said(results: Results) -> int:
    rooms, found = Counter[str](), Counter[str]()
    for site, noticed in results:
        room = site.path.split("/", maxsplit=1)[0]
        rooms[room] += 1
        found[room] += bool(noticed)
    for room, count in sorted(rooms.items()):
        print(f"{room:<10}{found[room]:>5} of {count:>4} noticed, {found[room] / count:.0%}")
    share = found.total() / max(rooms.total(), 1)
    print(f"{'all':<10}{found.total():>5} of {rooms.total():>4} noticed, {share:.1%}")
    return 0 if share >= PROMISED else 1


if __name__ == "__main__":
    sys.exit(main())
