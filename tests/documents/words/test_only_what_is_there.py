"""No step, message or reading speaks of a part or thing that the vehicle has not got."""

import re

import pytest
from every_case import every_case
from pair_facts import planned

from upgrade_planner.configuration.equipment import KEY, MARINE, NO
from upgrade_planner.configuration.kinds import Family
from upgrade_planner.configuration.model import Conductor
from upgrade_planner.documents.words.standing import hazard_words, procedure_words, reading_words
from upgrade_planner.documents.worksheet.steps import StepWriter
from upgrade_planner.library.pairs import ready_pairs
from upgrade_planner.planning.operations import (
    FitPart,
    InsertFuse,
    Procedure,
    RemovePart,
    SwitchOn,
    ends_joined,
    ends_taken_off,
)
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


def has_medium(medium):
    return lambda plan: any(
        wire.conductor is medium
        for side in (plan.comparison.before, plan.comparison.after)
        for wire in side.wires
    )


def has_place(*words):
    return lambda plan: any(
        word in f"{place.id} {place.name}".lower()
        for place in plan.comparison.after.places
        for word in words
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
    r"\bhorns?\b": has_role("horn"),
    r"\bwipers?\b": has_role("wiper"),
    r"\boverdrive\b": has_role("overdrive"),
    r"\btrailer\b": has_role("trailer"),
    r"\bblower\b": has_role("blower", "heater"),
    r"\bballast\b": has_role("ballast"),
    r"\bvoltmeter\b": has_role("voltmeter", "ammeter"),
    r"\bammeter\b": has_role("voltmeter", "ammeter"),
    r"\bpick-up\b": has_family(Family.PICK_UP),
    r"\bresistance wire\b": has_medium(Conductor.RESISTANCE),
    r"\b(fusible )?link\b": has_medium(Conductor.LINK),
    r"\bbulkhead\b": has_place("bulkhead", "firewall"),
    r"\bdash\b": has_place("dash", "panel", "instrument"),
    r"\b(wheels|brake|pedals|road|jack)\b": lambda plan: equipment(plan).rules != MARINE,
    r"\b(boat|bilge|moorings)\b": lambda plan: equipment(plan).rules == MARINE,
    r"\bwing\b": has_place("wing"),
    r"\bboot\b(?! )": has_place("boot"),
}
"""Words of texts, and what must be true of the job before they may stand there."""


def without_names(text, plan):
    """What is said besides the names of wires and parts, which are there by construction."""
    names = {role.replace("_", " ") for role in roles(plan)}
    sides = (plan.comparison.before, plan.comparison.after)
    names |= {wire.id for side in sides for wire in side.wires}
    for name in sorted(names, key=len, reverse=True):
        text = text.replace(name, "")
    return text


def texts(plan):
    writer = StepWriter(plan, "metric")
    for step in plan.steps:
        if not isinstance(step.operation, Procedure):
            words = writer.step(step.number, step.operation)
            text = " ".join((words.instruction, *words.details, words.expected))
            yield step.operation.id, without_names(text, plan)
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
def test_a_job_names_only_what_the_vehicle_has_and_bears(pair):
    plan = planned(*pair)
    told = list(texts(plan))
    wrong = [
        (where, pattern)
        for where, text in told
        for pattern, is_there in NEEDED.items()
        if re.search(pattern, text) and not is_there(plan)
    ]
    assert wrong == []
    assert list(missing(plan)) == []
    highest = equipment(plan).highest_speed_rpm
    named = [int(n) for _, text in told for n in re.findall(r"(\d+)\s?r/min", text)]
    assert highest is None or all(number <= highest for number in named)


def missing(plan):
    """Steps whose place, part, consumer or end is not there."""
    before, after = plan.comparison.before, plan.comparison.after
    for step in plan.operations:
        if step.place and step.place not in after.place_by_id:
            yield step.id, step.place
        fitted = [step.part] if isinstance(step, SwitchOn | FitPart | InsertFuse) else []
        removed = [step.part] if isinstance(step, RemovePart) else []
        for side, parts in ((before, removed), (after, fitted)):
            for part in parts:
                if part.role not in side.component_by_role:
                    yield step.id, part.role
        for side, ends in ((before, ends_taken_off(step)), (after, ends_joined(step))):
            for end in (one.end for one in ends):
                if not side.component(end.role).terminal(end.terminal):
                    yield step.id, end


def test_lowered_speed_says_so():
    plan = planned("six_volt_tractor_original", "six_volt_tractor_twelve")
    told = " ".join(text for _, text in texts(plan))
    assert "1400 r/min" in told.replace("\N{NO-BREAK SPACE}", " ")
    assert "its highest" in told


@every_case(
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
