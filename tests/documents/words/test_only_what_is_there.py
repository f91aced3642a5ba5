"""No step, message or reading speaks of a part or thing that the vehicle has not got."""

import re

import pytest
from pair_facts import planned

from upgrade_planner.configuration.equipment import KEY, NO
from upgrade_planner.configuration.kinds import Family
from upgrade_planner.documents.words.standing import hazard_words, procedure_words, reading_words
from upgrade_planner.library.pairs import ready_pairs
from upgrade_planner.planning.operations import Procedure
from upgrade_planner.planning.vehicle_facts import turns_in_bursts

PAIRS = [(pair.before, pair.after) for pair in ready_pairs()]


def roles(plan):
    comparison = plan.comparison
    return {*comparison.before.component_by_role, *comparison.after.component_by_role}


def has_role(*parts):
    return lambda plan: any(part in role for role in roles(plan) for part in parts)


def has_circuit(circuit):
    return lambda plan: any(
        wire.circuit == circuit
        for side in (plan.comparison.before, plan.comparison.after)
        for wire in side.wires
    )


def has_family(*families):
    return lambda plan: bool(
        plan.comparison.before.parts_of(*families) or plan.comparison.after.parts_of(*families)
    )


def has_step(*codes):
    return lambda plan: any(getattr(step, "code", "") in codes for step in plan.operations)


def equipment(plan):
    return plan.comparison.after.vehicle.equipment


NEEDED = {
    r"start bypass|bypass contact": has_circuit("start bypass"),
    r"charge lamp": has_role("charge_lamp"),
    r"\bheater": has_role("heater"),
    r"\bdoors\b": lambda plan: equipment(plan).doors != NO,
    r"\bclock\b": has_role("clock"),
    r"\bradio\b": has_role("radio"),
    r"\b[Kk]eys?\b(?!-)": lambda plan: equipment(plan).switched_by == KEY,
    r"[Pp]olarise it as the steps": has_step("polarise-a", "polarise-b"),
    r"charge lamp out|charge lamp lit": has_role("charge_lamp"),
    r"control box": has_family(Family.REGULATOR, Family.CUT_OUT),
    r"cut-out": has_family(Family.CUT_OUT, Family.REGULATOR),
    r"condenser": has_family(Family.POINTS, Family.CONDENSER, Family.IGNITION_UNIT, Family.COIL),
    r"[Ff]uel pump": has_role("fuel_pump"),
    r"\bisolator": has_role("isolator"),
    r"discharge unit": has_role("discharge_unit"),
    r"tachometer drive": has_family(Family.DYNAMO),
    r"interlock": has_role("interlock"),
    r"electric fan": has_role("fan"),
}
"""Words of texts, and what must be true of the job before they may stand there."""


def texts(plan):
    for step in plan.operations:
        if isinstance(step, Procedure):
            words = procedure_words(step, "metric")
            yield (
                step.id,
                " ".join((words.instruction, *words.details, words.expected, words.if_not)),
            )
    for hazard in plan.hazards:
        told = hazard_words(hazard, "metric")
        yield hazard.id, f"{told.hazard} {told.avoid} {told.if_it_happens}"
    for reading in plan.readings:
        yield reading.id, reading_words(reading, "metric").condition


@pytest.mark.parametrize("pair", PAIRS, ids="-".join)
def test_texts_name_only_what_the_vehicle_has(pair):
    plan = planned(*pair)
    wrong = [
        (where, pattern)
        for where, text in texts(plan)
        for pattern, is_there in NEEDED.items()
        if re.search(pattern, text) and not is_there(plan)
    ]
    assert wrong == []


@pytest.mark.parametrize("pair", PAIRS, ids="-".join)
def test_no_speed_lies_above_what_the_vehicle_bears(pair):
    highest = equipment(planned(*pair)).highest_speed_rpm
    named = [
        int(number)
        for _, text in texts(planned(*pair))
        for number in re.findall(r"(\d+)\s?r/min", text)
    ]
    assert highest is None or all(number <= highest for number in named)


def test_lowered_speed_says_so():
    plan = planned("six_volt_tractor_original", "six_volt_tractor_twelve")
    told = " ".join(text for _, text in texts(plan))
    assert "1400 r/min" in told.replace("\N{NO-BREAK SPACE}", " ")
    assert "its highest" in told


@pytest.mark.parametrize(
    ("pair", "burst"),
    [
        (("six_volt_tractor_original", "six_volt_tractor_twelve_electronic"), "5 s"),
        (("six_volt_tractor_original", "six_volt_tractor_trigger"), "15 s"),
        (("van_original_resistance", "van_upgraded"), "15 s"),
    ],
)
def test_starter_turns_as_long_as_its_voltage_allows(pair, burst):
    plan = planned(*pair)
    (crank,) = [step for step in plan.operations if getattr(step, "code", "") == "crank"]
    words = procedure_words(crank, "metric")
    assert burst in words.instruction.replace("\N{NO-BREAK SPACE}", " ")
    assert "One reading for each turn" in " ".join(words.details)
    assert turns_in_bursts(plan.comparison) is (burst == "5 s")
    conditions = " ".join(reading_words(reading, "metric").condition for reading in plan.readings)
    assert "cranking 5 s" in conditions.replace("\N{NO-BREAK SPACE}", " ") or burst != "5 s"
