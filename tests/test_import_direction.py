"""Imports run one way: a stage uses the stages before it, a module never one that uses it."""

import ast
from functools import cache
from graphlib import TopologicalSorter

from rooms import ORDER, PACKAGE, tree_of

MOST_LINES = 400
"""Of a module; beyond it there is a second subject in it."""

FREE = {"attributes", "errors", "__init__", "__main__"}
STAGES = {path.stem for path in PACKAGE.iterdir() if path.is_dir() or path.suffix == ".py"}


def stage_of(path):
    relative = path.relative_to(PACKAGE)
    return relative.parts[0] if len(relative.parts) > 1 else relative.stem


@cache
def imported_names(path):
    """Dotted names that a module imports, inside functions too; of objects as of modules."""
    return frozenset(_imported_names(path))


def _statements(node):
    """Those inside a syntax tree; no import stands in an expression."""
    for block in ("body", "orelse", "finalbody", "handlers", "cases"):
        for one in getattr(node, block, ()):
            yield one
            yield from _statements(one)


def _imported_names(path):
    for node in _statements(tree_of(path)):
        if isinstance(node, ast.ImportFrom) and node.module:
            yield node.module
            yield from (f"{node.module}.{alias.name}" for alias in node.names)
        elif isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)


def imported_stages(path):
    for name in imported_names(path):
        parts = name.split(".")
        if parts[0] == "upgrade_planner" and STAGES.intersection(parts[1:2]):
            yield parts[1]


def dotted(path):
    inside = path.relative_to(PACKAGE.parent).with_suffix("")
    return ".".join(inside.parts).removesuffix(".__init__")


PACKAGES = {dotted(path) for path in PACKAGE.rglob("__init__.py")}
MODULES = sorted(path for path in PACKAGE.rglob("*.py") if stage_of(path) not in FREE)


def test_modules_import_only_stages_before_their_own():
    assert [
        f"{dotted(path)} imports {stage}"
        for path in MODULES
        for stage in imported_stages(path)
        if stage not in FREE and ORDER.index(stage) > ORDER.index(stage_of(path))
    ] == []


def test_values_are_made_by_the_decorator_that_takes_less_time():
    """It is taken from `upgrade_planner.attributes`."""
    assert [dotted(path) for path in MODULES if "attrs.frozen" in imported_names(path)] == []


def test_the_command_line_knows_jobs_and_what_is_printed_alone():
    """What else a command needs, its job hands over."""
    known = ("cli", "jobs", "errors", "__version__", "documents.terminal")
    assert [
        f"{path.name} imports {name}"
        for path in sorted((PACKAGE / "cli").glob("*.py"))
        for name in imported_names(path)
        if name.startswith("upgrade_planner.")
        and not name.removeprefix("upgrade_planner.").startswith(known)
    ] == []


def test_every_stage_is_known():
    assert {stage_of(path) for path in MODULES} == set(ORDER)


def test_no_module_uses_one_that_uses_it():
    """A circle of imports is one error that names its members, late imports included."""
    names = {dotted(path) for path in PACKAGE.rglob("*.py")}
    uses = {
        dotted(path): {name for name in imported_names(path) if name in names} - PACKAGES
        for path in PACKAGE.rglob("*.py")
        if dotted(path) not in PACKAGES
    }
    TopologicalSorter(uses).prepare()


def test_no_module_is_so_long_that_it_holds_two_subjects():
    lines = {dotted(path): path.read_text(encoding="utf-8").count("\n") for path in MODULES}
    assert {name: count for name, count in lines.items() if count > MOST_LINES} == {}
