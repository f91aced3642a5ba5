"""Every rule is in the list that runs, and in it once."""

import inspect
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path

from every_case import every_case

from upgrade_planner import checks
from upgrade_planner.checks.checking import RULES
from upgrade_planner.checks.examined import Examined
from upgrade_planner.checks.findings import Finding

MODULES = sorted(Path(checks.__file__).parent.glob("*.py"))


def rules_in(module):
    """Public functions of a module that take an examined configuration and give findings."""
    for function in vars(module).values():
        if inspect.isfunction(function) and function.__module__ == module.__name__:
            signature = inspect.signature(function)
            arguments = [p.annotation for p in signature.parameters.values()]
            gives = signature.return_annotation == Iterator[Finding]
            if arguments == [Examined] and gives and not function.__name__.startswith("_"):
                yield function


@every_case("name", [path.stem for path in MODULES if path.stem != "__init__"])
def test_every_rule_of_a_module_is_in_the_list(name):
    module = import_module(f"upgrade_planner.checks.{name}")
    assert not [rule.__name__ for rule in rules_in(module) if rule not in RULES]


def test_no_rule_runs_twice():
    assert len(set(RULES)) == len(RULES)
