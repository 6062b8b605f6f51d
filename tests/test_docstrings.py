"""What the analysis offers says what it takes: each argument, where there are three or more."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
ANALYSIS = ROOT / "pitjournal" / "analysis"


def offered() -> Iterator[tuple[str, ast.FunctionDef]]:
    for path in sorted(ANALYSIS.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.FunctionDef) and not node.name.startswith("_"):
                yield f"{path.relative_to(ANALYSIS)}: {node.name}", node


def arguments(node: ast.FunctionDef) -> list[str]:
    every = (*node.args.posonlyargs, *node.args.args, *node.args.kwonlyargs)
    return [argument.arg for argument in every if argument.arg not in {"self", "cls"}]


@pytest.mark.parametrize(
    "node",
    [pytest.param(node, id=name) for name, node in offered() if len(arguments(node)) >= 3],
)
def test_that_a_function_of_three_arguments_says_what_each_is(node: ast.FunctionDef) -> None:
    words = ast.get_docstring(node) or ""
    if isinstance(node.body[0], ast.Expr) and len(node.body) == 1:
        return  # of a protocol: said where it is done
    _, _, told = words.partition("Parameters\n----------\n")
    heads = re.findall(r"^(\S.*)$", told, re.MULTILINE)
    named = {name.strip("* ") for head in heads for name in head.split(",")}
    missing = [name for name in arguments(node) if name not in named]
    assert not missing
