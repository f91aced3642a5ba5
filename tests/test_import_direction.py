"""Imports run one way: a stage uses the stages before it, never those behind it."""

import ast
from pathlib import Path

import pytest

import upgrade_planner

ROOT = Path(upgrade_planner.__file__).parent
ORDER = (
    "configuration",
    "library",
    "electrical",
    "readings",
    "checks",
    "inspection",
    "comparison",
    "planning",
    "kit",
    "quote",
    "documents",
    "jobs",
    "cli",
)
FREE = {"errors", "__init__", "__main__"}


def stage_of(path):
    relative = path.relative_to(ROOT)
    return relative.parts[0] if len(relative.parts) > 1 else relative.stem


def imported_stages(path):
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        names = []
        if isinstance(node, ast.ImportFrom) and node.module:
            names = [node.module]
        elif isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        for name in names:
            parts = name.split(".")
            if parts[0] == "upgrade_planner" and len(parts) > 1:
                yield parts[1]


MODULES = sorted(path for path in ROOT.rglob("*.py") if stage_of(path) not in FREE)


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(ROOT)))
def test_module_imports_only_stages_before_its_own(path):
    own = ORDER.index(stage_of(path))
    for stage in imported_stages(path):
        if stage not in FREE:
            assert ORDER.index(stage) <= own, f"{path.name} imports {stage}"


def test_every_stage_is_known():
    assert {stage_of(path) for path in MODULES} == set(ORDER)
