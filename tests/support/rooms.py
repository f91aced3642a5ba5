"""The rooms of the package, in the order in which they may import each other."""

import ast
from functools import cache
from pathlib import Path

import upgrade_planner

PACKAGE = Path(upgrade_planner.__file__).parent
ORDER = (
    "configuration",
    "library",
    "electrical",
    "readings",
    "checks",
    "inspection",
    "targets",
    "comparison",
    "planning",
    "kit",
    "quote",
    "documents",
    "jobs",
    "cli",
)


@cache
def tree_of(path):
    """A module of the package as a syntax tree, read when a test first asks."""
    return ast.parse(path.read_text(encoding="utf-8"))
