"""Every command has its call in the module of the same name, so that scripts can do the same."""

import importlib
import inspect

from every_case import every_case

from upgrade_planner.cli import app

NAMES = [one.name or one.callback.__name__ for one in app.registered_commands]
WITHOUT = {"list"}
"""It asks several questions; each has a call of its own."""


def test_list_has_a_call_for_each_question():
    job = importlib.import_module("upgrade_planner.jobs.list")
    for name in ("everything", "finds", "fits", "upgrades"):
        assert inspect.getdoc(getattr(job, name))


@every_case("name", sorted(set(NAMES) - WITHOUT))
def test_a_command_has_a_job_of_its_name(name):
    job = getattr(importlib.import_module(f"upgrade_planner.jobs.{name}"), name)
    assert inspect.isfunction(job)
    assert inspect.getdoc(job)


def test_jobs_compute_what_the_commands_print():
    from upgrade_planner.jobs.check import check
    from upgrade_planner.jobs.compare import compare
    from upgrade_planner.jobs.show import show

    assert check("van_as_found").has_danger
    compared = compare("van_original_ballast", "van_upgraded")
    assert compared.comparison.wires
    assert not compared.has_danger
    assert show("van_upgraded").name == "van_upgraded"
    assert "[vehicle]" in show("carrier_van")
