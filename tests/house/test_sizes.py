"""Files and functions stay small enough to read at one go."""

import ast
from collections.abc import Iterator
from pathlib import Path

from tests.conftest import ROOT

MOST_FILE_LINES = 300
MOST_TEMPLATE_LINES = 150
MOST_FUNCTION_LINES = 40
MOST_POSITIONAL = 4

SOURCES = sorted(
    path
    for folder in ("config", "orders", "planner", "scripts", "tests")
    for path in (ROOT / folder).rglob("*.py")
    if "migrations" not in path.parts
)
TEMPLATES = sorted(path for path in (ROOT / "templates").rglob("*") if path.is_file())
Function = ast.FunctionDef | ast.AsyncFunctionDef


def name(path: Path) -> str:
    return str(path.relative_to(ROOT))


def line_count(path: Path) -> int:
    return len(path.read_text().splitlines())


def functions(path: Path) -> Iterator[Function]:
    return (node for node in ast.walk(ast.parse(path.read_text())) if isinstance(node, Function))


def lines_without_docstring(function: Function) -> int:
    lines = function.end_lineno - function.lineno + 1
    if ast.get_docstring(function) is not None:
        lines -= function.body[0].end_lineno - function.body[0].lineno + 1
    return lines


def positional(function: Function) -> list[str]:
    arguments = [argument.arg for argument in function.args.posonlyargs + function.args.args]
    return arguments[1:] if arguments[:1] in (["self"], ["cls"]) else arguments


def too_long(paths, most):
    return {name(path): lines for path in paths if (lines := line_count(path)) > most}


def test_a_file_can_be_read_at_one_go():
    assert too_long(SOURCES, MOST_FILE_LINES) == {}


def test_a_template_can_be_read_at_one_go():
    assert too_long(TEMPLATES, MOST_TEMPLATE_LINES) == {}


def test_a_function_fits_a_screen():
    lengths = {
        f"{name(path)} {f.name}": lines_without_docstring(f) for path in SOURCES for f in functions(path)
    }
    assert {place: lines for place, lines in lengths.items() if lines > MOST_FUNCTION_LINES} == {}


def test_a_function_takes_few_arguments_by_place():
    named_by_pytest = [
        path for path in SOURCES if path.name.startswith("test_") or path.name == "conftest.py"
    ]
    others = set(SOURCES) - set(named_by_pytest)
    given = {f"{name(path)} {f.name}": positional(f) for path in others for f in functions(path)}
    assert {place: names for place, names in given.items() if len(names) > MOST_POSITIONAL} == {}


def test_the_counting_itself_is_right():
    function = ast.parse('def f(self, a, b=1, *, c):\n    """Say\n    so."""\n    return a\n').body[0]
    assert lines_without_docstring(function) == 2
    assert positional(function) == ["a", "b"]
