"""What DEVELOPERS.md and the list of changes say is so."""

import ast
import re
import tomllib
from datetime import date
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
WORDS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
TREES = ("pitjournal", "tests", "resources", "packaging")
FILES = [
    path.relative_to(ROOT).as_posix()
    for tree in TREES
    for path in (ROOT / tree, *(ROOT / tree).rglob("*"))
    if "__pycache__" not in path.parts
]
PATH = re.compile(r"(?<!`)`((?:[a-z_0-9]+/)+[a-z_0-9]*(?:\.[A-Za-z_0-9]+)*|[a-z_0-9]+\.py)`")
"""A path in backticks: a folder, a file, a module, or a name inside one."""


def named(path: str) -> bool:
    """Whether a path, from wherever in the tree it is told, is there."""
    plain = path.rstrip("/")
    module, _, name = plain.rpartition(".")
    for file in FILES:
        if f"/{file}".endswith((f"/{plain}", f"/{plain}.py")):
            return True
        inside = module and name != "py" and f"/{file}".endswith(f"/{module}.py")
        if inside and re.search(rf"\b{name}\b", (ROOT / file).read_text(encoding="utf-8")):
            return True
    return False


@pytest.mark.parametrize("path", sorted(set(PATH.findall(WORDS))))
def test_that_each_path_for_developers_is_there(path: str) -> None:
    assert named(path), path


@pytest.mark.parametrize("module", sorted(set(re.findall(r"-m (tests[\w.]+)", WORDS))))
def test_that_each_script_for_developers_can_be_run(module: str) -> None:
    place = ROOT / module.replace(".", "/")
    assert place.with_suffix(".py").exists() or (place / "__main__.py").exists()


def test_that_decisions_are_numbered_in_order_and_once() -> None:
    decisions = WORDS[WORDS.index("## Decisions") : WORDS.index("## How to test")]
    numbers = [int(number) for number in re.findall(r"^(\d+)\. \*\*", decisions, re.MULTILINE)]
    assert len(numbers) == len(set(numbers))
    assert numbers == sorted(numbers)


def test_that_the_first_hour_names_what_is_there() -> None:
    hour = WORDS[WORDS.index("## A first hour") : WORDS.index("## How data flows")]
    for path, names in {
        "pitjournal/analysis/derived.py": ("_fire", "FuelStage"),
        "pitjournal/domain/catalogue/of_cook.py": ("cook_time",),
        "tests/analysis/test_every_derived.py": ("OF_THE_COOK",),
        "pitjournal/ui/summary_formats.py": ("SUMMARY_FORMATS", "_csv", "Format"),
        "tests/files/probe_log/dialects.py": ("Dialect", "wide"),
        "pitjournal/ui/start.py": ("MAKERS", "Later"),
        "pitjournal/ui/page.py": ("Page", "refresh", "take"),
        "tests/ui/test_window.py": ("PLACES",),
        "tests/ui/charts/test_hostile.py": ("CHARTS",),
        "pitjournal/ui/charts/marks_chart.py": ("MarksChart", "paint_marks"),
        "pitjournal/journal/following.py": ("read_on", "Read", "overlaid"),
        "pitjournal/ui/follow.py": ("look",),
    }.items():
        text = (ROOT / path).read_text(encoding="utf-8")
        for name in names:
            assert name in hour, name
            assert re.search(rf"\b{name}\b", text), f"{name} in {path}"


def test_that_every_place_is_gone_to_by_a_test_of_the_window() -> None:
    """The places are read from the text of `MAKERS`, so that this is known without Qt too."""
    makers = next(
        node.value
        for node in ast.parse((ROOT / "pitjournal/ui/start.py").read_text(encoding="utf-8")).body
        if isinstance(node, ast.AnnAssign)
        and isinstance(node.target, ast.Name)
        and node.target.id == "MAKERS"
    )
    assert isinstance(makers, ast.Dict)
    places = [str(key.value) for key in makers.keys if isinstance(key, ast.Constant)]
    tried = "".join(
        path.read_text(encoding="utf-8")
        for folder in ("tests/ui", "tests/screens", "tests/journeys", "tests/window")
        for path in (ROOT / folder).rglob("*.py")
    )
    assert len(places) > 5
    assert not [place for place in places if f'"{place!s}"' not in tried]


def test_that_every_chart_meets_hostile_numbers() -> None:
    """Classes that paint are found by their text, so that this is known without Qt too."""
    tried = (ROOT / "tests/ui/charts/test_hostile.py").read_text(encoding="utf-8")
    bases, painted = {"Canvas", "MarksChart", "BoxesChart"}, []
    for path in sorted((ROOT / "pitjournal/ui").rglob("*.py")):
        for node in ast.parse(path.read_text(encoding="utf-8")).body:
            if isinstance(node, ast.ClassDef) and node.name not in bases:
                names = {base.id for base in node.bases if isinstance(base, ast.Name)}
                if names & bases:
                    painted.append(node.name)
    assert painted
    assert not [name for name in painted if not re.search(rf"\b{name}\b", tried)]


def test_that_each_release_has_its_day_and_the_top_the_version() -> None:
    changes = (ROOT / "packaging/CHANGELOG.md").read_text(encoding="utf-8")
    heads = re.findall(r"^## (\S+) \((.+)\)$", changes, re.MULTILINE)
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    assert heads[0][0] == project["version"]
    assert f'"{heads[0][0]}"' in (ROOT / "pitjournal/__init__.py").read_text(encoding="utf-8")
    for place, (_, day) in enumerate(heads):
        assert place == 0 or day != "not yet released"
        assert day == "not yet released" or date.fromisoformat(day)
