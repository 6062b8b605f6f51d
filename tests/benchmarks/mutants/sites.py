"""Where a small fault can be put into a file, and what it reads like then."""

import ast
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

ROOMS = ("science", "analysis", "store", "journal")
"""What is looked at: where figures are made, and where nothing may be lost."""

LEFT_OUT = ("journal/demonstration/",)
"""An invented scenario: its numbers could be others."""

_COMPARED: dict[type[ast.cmpop], type[ast.cmpop]] = {
    ast.Lt: ast.LtE,
    ast.LtE: ast.Lt,
    ast.Gt: ast.GtE,
    ast.GtE: ast.Gt,
    ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq,
    ast.In: ast.NotIn,
    ast.NotIn: ast.In,
    ast.Is: ast.IsNot,
    ast.IsNot: ast.Is,
}
_COUNTED: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.Mult: ast.Div,
    ast.Div: ast.Mult,
    ast.FloorDiv: ast.Mult,
    ast.Pow: ast.Mult,
    ast.Mod: ast.FloorDiv,
    ast.BitAnd: ast.BitOr,
    ast.BitOr: ast.BitAnd,
}
_NAMES = {"min": "max", "max": "min", "any": "all", "all": "any"}
_MEANS_NOTHING = frozenset({"strict", "encoding", "stacklevel", "exist_ok", "parents"})
"""Arguments that guard against what does not happen."""


@dataclass(frozen=True)
class Site:
    """One small fault.

    `path` is the file below the package; `function` its dotted name, empty outside of all, and
    `first` the line its code begins at; `nth` counts the faults inside it. `start` and `end` are
    places in the file's bytes, `new` what stands between them instead.
    """

    path: str
    function: str
    first: int
    nth: int
    line: int
    start: int
    end: int
    old: str
    new: str

    def applied(self, data: bytes) -> bytes:
        return data[: self.start] + self.new.encode() + data[self.end :]


def sites_below(package: Path) -> list[Site]:
    """Return every fault that can be put into the rooms, in order."""
    found: list[Site] = []
    for room in ROOMS:
        for file in sorted((package / room).rglob("*.py")):
            path = file.relative_to(package).as_posix()
            if not path.startswith(LEFT_OUT):
                found.extend(sites_in(path, file.read_bytes()))
    return found


def sites_in(path: str, data: bytes) -> list[Site]:
    """Return every fault that can be put into one file."""
    looked = _Looked(path, data)
    looked.visit(ast.parse(data))
    return looked.found


class _Looked(ast.NodeVisitor):
    def __init__(self, path: str, data: bytes) -> None:
        self.path, self.data = path, data
        self.found: list[Site] = []
        self._lines = [0]
        for line in data.splitlines(keepends=True):
            self._lines.append(self._lines[-1] + len(line))
        self._inside: list[tuple[str, int]] = []
        self._counts: dict[str, int] = {}

    def _put(self, node: ast.expr, new: str) -> None:
        assert node.end_lineno is not None
        assert node.end_col_offset is not None
        start = self._lines[node.lineno - 1] + node.col_offset
        end = self._lines[node.end_lineno - 1] + node.end_col_offset
        name, first = self._inside[-1] if self._inside else ("", 0)
        nth = self._counts[name] = self._counts.get(name, -1) + 1
        old = " ".join(self.data[start:end].decode().split())
        if old != new:
            self.found.append(Site(self.path, name, first, nth, node.lineno, start, end, old, new))

    # what is passed over

    def visit_FunctionDef(self, node: ast.FunctionDef) -> None:
        self._function(node)

    def visit_AsyncFunctionDef(self, node: ast.AsyncFunctionDef) -> None:
        self._function(node)

    def _function(self, node: ast.FunctionDef | ast.AsyncFunctionDef) -> None:
        first = min([node.lineno, *(decorator.lineno for decorator in node.decorator_list)])
        outer = f"{self._inside[-1][0]}." if self._inside else ""
        for default in (*node.args.defaults, *node.args.kw_defaults):
            if default is not None:
                self.visit(default)
        self._inside.append((f"{outer}{node.name}", first))
        for statement in node.body:
            self.visit(statement)
        self._inside.pop()

    def visit_ClassDef(self, node: ast.ClassDef) -> None:
        outer = f"{self._inside[-1][0]}." if self._inside else ""
        self._inside.append((f"{outer}{node.name}", 0))
        for statement in node.body:
            self.visit(statement)
        self._inside.pop()

    def visit_AnnAssign(self, node: ast.AnnAssign) -> None:
        if node.value is not None:
            self.visit(node.value)

    def visit_Assign(self, node: ast.Assign) -> None:
        if not any(isinstance(t, ast.Name) and t.id == "__all__" for t in node.targets):
            self.generic_visit(node)

    def visit_Raise(self, node: ast.Raise) -> None:
        """Pass over what a fault says: words are for reading."""

    def visit_JoinedStr(self, node: ast.JoinedStr) -> None:
        """Pass over words."""

    def visit_keyword(self, node: ast.keyword) -> None:
        if node.arg not in _MEANS_NOTHING:
            self.visit(node.value)

    def visit_If(self, node: ast.If) -> None:
        if isinstance(node.test, ast.Name) and node.test.id == "TYPE_CHECKING":
            return
        self._turned(node.test)
        self.generic_visit(node)

    def visit_IfExp(self, node: ast.IfExp) -> None:
        self._turned(node.test)
        self.generic_visit(node)

    def _turned(self, test: ast.expr) -> None:
        if isinstance(test, ast.Name | ast.Attribute | ast.Call):
            self._put(test, f"(not {ast.unparse(test)})")

    # what is changed

    def visit_Compare(self, node: ast.Compare) -> None:
        for place, op in enumerate(node.ops):
            other = [*node.ops]
            other[place] = _COMPARED[type(op)]()
            self._put(node, ast.unparse(ast.Compare(node.left, other, node.comparators)))
        self.generic_visit(node)

    def visit_BinOp(self, node: ast.BinOp) -> None:
        words = any(
            isinstance(side, ast.JoinedStr)
            or (isinstance(side, ast.Constant) and isinstance(side.value, str | bytes))
            for side in (node.left, node.right)
        )
        other = _COUNTED.get(type(node.op))
        if other is not None and not words:
            self._put(node, f"({ast.unparse(ast.BinOp(node.left, other(), node.right))})")
        self.generic_visit(node)

    def visit_BoolOp(self, node: ast.BoolOp) -> None:
        other = ast.Or() if isinstance(node.op, ast.And) else ast.And()
        self._put(node, f"({ast.unparse(ast.BoolOp(other, node.values))})")
        self.generic_visit(node)

    def visit_UnaryOp(self, node: ast.UnaryOp) -> None:
        if isinstance(node.op, ast.Not | ast.USub):
            self._put(node, f"({ast.unparse(node.operand)})")
        self.generic_visit(node)

    def visit_Constant(self, node: ast.Constant) -> None:
        value = node.value
        if isinstance(value, bool):
            self._put(node, str(not value))
        elif isinstance(value, int):
            self._put(node, str(value + 1))
        elif isinstance(value, float):
            self._put(node, repr(value * 2 if value else 1.0))

    def visit_Call(self, node: ast.Call) -> None:
        if isinstance(node.func, ast.Name) and node.func.id in _NAMES:
            self._put(node.func, _NAMES[node.func.id])
        self.generic_visit(node)


def chosen(sites: list[Site], site: tuple[str, str, int]) -> Iterator[Site]:
    """Return the fault with this path, function and number, where it is still there."""
    return (one for one in sites if (one.path, one.function, one.nth) == site)
