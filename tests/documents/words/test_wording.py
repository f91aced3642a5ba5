"""The words on the sheet: closed verbs, short sentences, one action a row, no empty claims."""

import re

import pytest
from pair_facts import planned
from shipped_pairs import SHIPPED_PAIRS

from upgrade_planner.documents.worksheet.sheet import SheetOptions, sheet_view

VERBS = {
    "Disconnect",
    "Remove",
    "Cap",
    "Tag",
    "Photograph",
    "Fit",
    "Route",
    "Connect",
    "Measure",
    "Switch",
    "Compare",
    "Tie",
    "Pull",
}
LONGEST_INSTRUCTION = 21  # words; the guidance is 20, a wire's name may count as one more


@pytest.fixture(params=SHIPPED_PAIRS, ids=lambda pair: f"{pair[0]}-{pair[1]}")
def view(request):
    before, after = request.param
    plan = planned(before, after)
    return sheet_view(plan, SheetOptions(date="2026-03-01"))


def steps(view):
    return [step for phase in view.phases for block in phase.blocks for step in block.steps]


def test_every_step_begins_with_a_verb_of_the_closed_list(view):
    assert {step.instruction.split()[0] for step in steps(view)} <= VERBS


def test_instructions_are_one_short_sentence(view):
    for step in steps(view):
        assert len(step.instruction.split()) <= LONGEST_INSTRUCTION, step.instruction
        assert step.instruction.endswith(".")
        assert not re.search(r"[.!?] [A-Z]", step.instruction), step.instruction


def test_no_vague_words(view):
    vague = re.compile(r"\b(check|ensure|verify|make good|as required|properly)\b", re.I)
    for step in steps(view):
        assert not vague.search(f"{step.instruction} {step.expected}"), step.instruction


def test_every_step_has_a_result_to_expect(view):
    assert all(step.expected for step in steps(view))


def test_every_hold_is_numbered_in_order_and_signed(view):
    holds = [step for step in steps(view) if step.hold]
    assert [step.hold for step in holds] == [f"HOLD {n}" for n in range(1, len(holds) + 1)]
    assert all(step.sign for step in holds)


def test_steps_are_numbered_without_gaps(view):
    for phase in view.phases:
        numbers = [step.number for block in phase.blocks for step in block.steps]
        assert numbers == [f"{phase.letter}{n}" for n in range(1, len(numbers) + 1)]


def test_every_changed_wire_stands_in_a_step_and_every_wire_in_the_schedule(view, request):
    marks = {step.mark for step in steps(view)}
    for group in view.schedule:
        for row in group.rows:
            assert row.reason or group.reason
            if group.action != "KEEP":
                assert row.mark in marks, row.mark


def test_counts_add_up_to_the_schedule(view):
    counted = {count.word: count.number for count in view.counts if count.number}
    scheduled = {group.action: len(group.rows) for group in view.schedule}
    assert counted == scheduled


def test_at_most_three_messages_a_phase_and_none_twice_in_a_row(view):
    for phase in view.phases:
        assert len(phase.safety) <= 3, phase.letter


def test_sheet_never_claims_to_be_certified(view):
    text = " ".join(view.limits)
    assert "no certificate" in text
    assert "maker's service manual" in text


def test_no_wire_is_named_by_its_file_reference(view):
    reference = re.compile(r"\b[a-z_]+\.[a-z_]+\b")
    for step in steps(view):
        for text in (step.instruction, *step.details):
            assert not reference.search(text), text
