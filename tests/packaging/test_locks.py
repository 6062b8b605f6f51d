import re
import subprocess
import tomllib
from pathlib import Path

import pytest
from packaging.requirements import Requirement

ROOT = Path(__file__).parents[2]
LOCKS = sorted((ROOT / "packaging").glob("requirements*.lock"))
SCRIPTS = [*sorted((ROOT / "packaging").glob("*.sh")), ROOT / ".ci" / "run"]
QT = {"pyside6-essentials", "shiboken6", "pyqtgraph", "pytest-qt"}


def pinned(lock: Path) -> dict[str, list[Requirement]]:
    found: dict[str, list[Requirement]] = {}
    for line in lock.read_text(encoding="utf-8").splitlines():
        if line and not line.startswith((" ", "#")):
            requirement = Requirement(line.removesuffix(" \\"))
            found.setdefault(requirement.name, []).append(requirement)
    return found


def name_of(requirement: str) -> str:
    return re.sub(r"[-_.]+", "-", Requirement(requirement).name).lower()


@pytest.mark.parametrize("lock", LOCKS, ids=lambda path: path.name)
def test_that_every_package_has_one_version_and_its_hashes(lock: Path) -> None:
    text = lock.read_text(encoding="utf-8")
    for entry in re.split(r"\n(?=\S)", re.sub(r"^#.*\n", "", text, flags=re.MULTILINE).strip()):
        assert re.match(r"[\w.-]+==\S+ ", entry), entry[:80]
        assert re.search(r"--hash=sha256:[0-9a-f]{64}", entry), entry[:80]


@pytest.mark.parametrize("lock", LOCKS, ids=lambda path: path.name)
def test_that_a_lock_names_no_place(lock: Path) -> None:
    assert not re.search(r"://|index-url|find-links", lock.read_text(encoding="utf-8"))


def test_that_the_locks_hold_what_the_project_asks_for() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    wanted = project["project"]["dependencies"]
    asked = {
        "requirements.lock": wanted,
        "requirements-dev.lock": wanted + project["dependency-groups"]["dev"],
    }
    for name, requirements in asked.items():
        locked = pinned(ROOT / "packaging" / name)
        for requirement in requirements:
            found = locked[name_of(requirement)]
            for pin in found:
                (version,) = pin.specifier
                assert version.version in Requirement(requirement).specifier


def test_that_one_package_is_the_same_in_every_lock() -> None:
    dev = pinned(ROOT / "packaging" / "requirements-dev.lock")
    for lock in LOCKS:
        for name, pins in pinned(lock).items():
            assert [str(pin) for pin in pins] == [str(pin) for pin in dev[name]]


def test_that_the_lock_without_qt_has_none() -> None:
    assert set(pinned(ROOT / "packaging" / "requirements-dev.lock")) >= QT
    assert QT.isdisjoint(pinned(ROOT / "packaging" / "requirements-noqt.lock"))


@pytest.mark.parametrize("script", SCRIPTS, ids=lambda path: path.name)
def test_that_the_scripts_are_sound(script: Path) -> None:
    done = subprocess.run(["bash", "-n", str(script)], capture_output=True, check=False)
    assert (done.returncode, done.stderr) == (0, b"")


def test_that_a_second_set_up_does_nothing(tmp_path: Path) -> None:
    venv, lock = tmp_path / "venv", ROOT / "packaging" / "requirements.lock"
    (venv / "bin").mkdir(parents=True)
    (venv / "bin" / "python").symlink_to("/bin/true")
    script = (
        f'source "{ROOT}/packaging/setup.sh"; need_venv() {{ echo installs; }};'
        f' for _ in 1 2; do set_up "{venv}" "{lock}"; echo done; done'
    )
    done = subprocess.run(["bash", "-c", script], capture_output=True, check=True, text=True)
    assert done.stdout.split() == ["installs", "done", "done"]
