"""
Upgrade planner: compares two wiring configurations of a vehicle and plans the way between.

For scripts: `load`, `compare`, `check`, `readings_of`, `plan`, `write_worksheet`, `PlannerError`.
Each is imported when it is first asked for.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from upgrade_planner.errors import PlannerError
    from upgrade_planner.jobs.check import check
    from upgrade_planner.jobs.compare import compare
    from upgrade_planner.jobs.readings import readings as readings_of
    from upgrade_planner.jobs.scripting import load_whole as load
    from upgrade_planner.jobs.scripting import plan_job as plan
    from upgrade_planner.jobs.scripting import write_worksheet

__version__ = "0.2.0.dev0"

__all__ = [
    "PlannerError",
    "__version__",
    "check",
    "compare",
    "load",
    "plan",
    "readings_of",
    "write_worksheet",
]

_HOMES = {
    "PlannerError": ("errors", "PlannerError"),
    "check": ("jobs.check", "check"),
    "compare": ("jobs.compare", "compare"),
    "readings_of": ("jobs.readings", "readings"),  # `readings` is a package
    "load": ("jobs.scripting", "load_whole"),
    "plan": ("jobs.scripting", "plan_job"),
    "write_worksheet": ("jobs.scripting", "write_worksheet"),
}


def __getattr__(name: str) -> Any:
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    module, inside = _HOMES[name]
    return getattr(import_module(f"{__name__}.{module}"), inside)


def __dir__() -> list[str]:
    return sorted({*globals(), *_HOMES})
