"""The rooms of the package, in the order in which they may import each other."""

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
