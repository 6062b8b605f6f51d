import re

import pytest

from pitjournal.cli import main
from pitjournal.cli.commands import COMMANDS
from pitjournal.cli.main import parser_of
from pitjournal.cli.parser import HELP, manual_page

PAGES = ["", *COMMANDS]


@pytest.mark.parametrize("command", PAGES)
def test_that_the_page_names_just_the_options_there_are(command: str) -> None:
    parser = parser_of(command)
    there = {option for action in parser._actions for option in action.option_strings}
    page = manual_page(command)
    listed = set(re.findall(r"(?<![\w-])--?[a-z][a-z-]*", _part(page, "OPTIONS")))
    assert listed == there | set(HELP)
    assert set(re.findall(r"--[a-z][a-z-]*", _part(page, "SYNOPSIS"))) <= listed


def _part(page: str, name: str) -> str:
    found = re.search(rf"^{name}\n((?:    .*\n|\n)+)", page, re.MULTILINE)
    assert found
    return found.group(1)


@pytest.mark.parametrize("command", PAGES)
def test_that_the_page_reads_like_one_of_a_manual(command: str) -> None:
    page = manual_page(command)
    heads = re.findall(r"^[A-Z][A-Z ]+$", page, re.MULTILINE)
    assert heads[:3] == ["NAME", "SYNOPSIS", "DESCRIPTION"]
    assert {"OPTIONS", "EXAMPLES", "EXIT STATUS"} <= set(heads)
    assert max(map(len, page.splitlines())) <= 90
    assert ("JSON" in heads) == ("--json" in page)


@pytest.mark.parametrize("command", PAGES)
def test_that_help_shows_the_page(command: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main([*command.split(), "--help"]) == 0
    assert capsys.readouterr().out == manual_page(command)


def test_that_the_first_page_names_every_command() -> None:
    listed = re.findall(r"^    (\w+)  +\w", _part(manual_page(""), "DESCRIPTION"), re.MULTILINE)
    assert listed == list(COMMANDS)


def test_that_the_version_is_told(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--version"]) == 0
    assert re.fullmatch(r"pitjournal \d+\.\d+\.\d+\n", capsys.readouterr().out)
