"""Imports run one way: a stage uses the stages before it, a module never one that uses it."""

import ast
from graphlib import TopologicalSorter

import pytest
from rooms import ORDER, PACKAGE, tree_of

MOST_LINES = 400
"""Of a module; beyond it there is a second subject in it."""

FREE = {"attributes", "errors", "__init__", "__main__"}
STAGES = {path.stem for path in PACKAGE.iterdir() if path.is_dir() or path.suffix == ".py"}


def stage_of(path):
    relative = path.relative_to(PACKAGE)
    return relative.parts[0] if len(relative.parts) > 1 else relative.stem


def imported_names(path):
    """Dotted names that a module imports, inside functions too; of objects as of modules."""
    for node in ast.walk(tree_of(path)):
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


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(PACKAGE)))
def test_module_imports_only_stages_before_its_own(path):
    own = ORDER.index(stage_of(path))
    for stage in imported_stages(path):
        if stage not in FREE:
            assert ORDER.index(stage) <= own, f"{path.name} imports {stage}"


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(PACKAGE)))
def test_values_are_made_by_the_decorator_that_takes_less_time(path):
    assert "attrs.frozen" not in set(imported_names(path)), (
        "take it from upgrade_planner.attributes"
    )


@pytest.mark.parametrize("path", sorted((PACKAGE / "cli").glob("*.py")), ids=lambda path: path.name)
def test_the_command_line_knows_jobs_and_what_is_printed_alone(path):
    """What else a command needs, its job hands over."""
    known = ("cli", "jobs", "errors", "__version__", "documents.terminal")
    for name in imported_names(path):
        inside = name.removeprefix("upgrade_planner.")
        if inside != name:
            assert inside.startswith(known), f"{path.name} imports {name}"


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


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(PACKAGE)))
def test_no_module_is_so_long_that_it_holds_two_subjects(path):
    assert len(path.read_text(encoding="utf-8").splitlines()) <= MOST_LINES
