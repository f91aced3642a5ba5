"""Steps, messages and readings for dynamos, relays, isolators, pumps and other starters."""

import pytest

from upgrade_planner.configuration.loading import load_configuration
from upgrade_planner.documents.words.standing import procedure_words
from upgrade_planner.planning.operations import Phase, Procedure
from upgrade_planner.planning.plan import plan_upgrade

BASE = '[configuration]\ntitle = "t"\nsummary = "s"\nbased_on = "{base}"\n\n'
B_CIRCUIT = """[overrides.dynamo]
field_circuit = "B"
[overrides.regulator]
field_circuit = "B"
"""
NEW_CABLE = '[changes]\nchange_wires = [{ id = "charge-output", size = "10 mm²" }]\n'


@pytest.fixture
def job(tmp_path):
    """Standing steps by id of a job, each with its place in the order."""

    def plan(before, after, more=""):
        path = tmp_path / "after.toml"
        path.write_text(BASE.format(base=after) + more)
        made = plan_upgrade(load_configuration(before), load_configuration(str(path)))
        return {
            operation.id.removeprefix("procedure:"): (number, operation)
            for number, operation in enumerate(made.operations)
            if isinstance(operation, Procedure)
        }

    return plan


def told(step):
    return procedure_words(step, "metric")


def test_a_dynamo_is_polarised_in_the_way_of_its_field_circuit(job):
    a = job("tractor_dynamo", "tractor_dynamo", NEW_CABLE)
    assert "B+ to D+ of the control box" in told(a["polarise-a"][1]).instruction
    assert "polarise-b" not in a
    b = job("tractor_dynamo", "tractor_dynamo", NEW_CABLE + B_CIRCUIT)
    assert "terminal DF" in told(b["polarise-b"][1]).instruction
    assert "polarise-a" not in b


def test_polarising_comes_with_the_battery_joined_and_before_the_starter_turns(job):
    steps = job("tractor_dynamo", "tractor_dynamo", NEW_CABLE)
    order = [
        steps[name][0]
        for name in ("hold-test-lamp", "polarise-a", "hold-before-cranking", "cut-out-opens")
    ]
    assert order == sorted(order)
    assert steps["polarise-a"][1].phase is Phase("J")


def test_no_step_for_a_dynamo_where_there_is_none(job):
    steps = job("van_original_ballast", "van_upgraded")
    assert not {"polarise-a", "polarise-b", "cut-out-opens", "what-the-dynamo-drives"} & {*steps}


def test_what_the_dynamo_drove_is_settled_before_it_comes_off(job):
    steps = job("tractor_dynamo", "tractor_upgraded")
    number, step = steps["what-the-dynamo-drives"]
    assert step.hold
    assert number < steps["continuity"][0]
    assert "polarise-a" not in steps


@pytest.mark.parametrize(
    ("before", "after", "wanted"),
    [
        ("van_upgraded", "van_isolator", {"isolator-parts", "isolator-label"}),
        ("van_upgraded", "van_headlamp_relays", {"relays-click"}),
        ("pickup_upgraded", "pickup_gear_starter", {"starter-lets-go"}),
    ],
)
def test_extras_bring_their_own_tests(job, before, after, wanted):
    assert wanted <= {*job(before, after)}
    assert not wanted & {*job("van_original_ballast", "van_original_resistance")}


def test_every_label_a_step_names_is_known(job):
    for name in ("tractor_dynamo", "six_volt_tractor_original", "saloon_original"):
        steps = job(name, name, "")
        for _, step in steps.values():
            assert "?" not in told(step).instruction + told(step).expected, step.id


def test_a_pump_that_is_fitted_opens_the_fuel_line_and_is_looked_at_for_leaks(job):
    fitted = job("van_upgraded", "van_fuel_pump")
    assert fitted["fuel-leaks"][1].hold
    assert fitted["fuel-leaks"][0] < fitted["hold-test-lamp"][0]
    assert "fuel-leaks" not in job("van_fuel_pump", "van_fuel_pump")
    assert "fuel-leaks" not in job("van_original_ballast", "van_upgraded")
