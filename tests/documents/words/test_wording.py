"""The words on the sheet: closed verbs, short sentences, one action a row, no empty claims."""

import re
from collections import Counter
from functools import cache

import pytest
from every_case import every_case
from pair_facts import planned
from shipped_pairs import SHIPPED_PAIRS

from upgrade_planner.documents.worksheet.phases import tick_means
from upgrade_planner.documents.worksheet.sheet import sheet_view
from upgrade_planner.documents.worksheet.title_block import SheetOptions
from upgrade_planner.planning.operations import Phase

VERBS = {
    "Disconnect",
    "Remove",
    "Cap",
    "Tag",
    "Mark",  # how parts stand to each other, by a scribed line
    "Photograph",
    "Fit",
    "Route",
    "Connect",
    "Measure",
    "Switch",
    "Compare",  # one thing with another, or with the maker's figure
    "Look",  # with the eye, once
    "Watch",  # with the eye, for a while
    "Listen",
    "Feel",
    "Read",  # a meter, a gauge, a type plate
    "Work",  # a switch
    "Crank",  # the engine, with the starter
    "Try",  # the vehicle, on the road
    "Tie",
    "Pull",
}
LONGEST_INSTRUCTION = 21  # words; the guidance is 20, a wire's name may count as one more


@pytest.fixture(scope="module", params=SHIPPED_PAIRS, ids=lambda pair: f"{pair[0]}-{pair[1]}")
def view(request):
    before, after = request.param
    plan = planned(before, after)
    return sheet_view(plan, SheetOptions(date="2026-03-01", with_all_wires=True))


def rows(view):
    return [row for phase in view.phases for block in phase.blocks for row in block.rows]


def steps(view):
    return [step for row in rows(view) for step in row.steps]


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
    """In its row, or said once for all rows of its phase."""
    said = {str(phase) for phase in Phase if tick_means(phase, "both")}
    for phase in view.phases:
        told = phase.letter in said or phase.letter == Phase.GROUNDS  # its rows join wires, as in F
        for row in (row for block in phase.blocks for row in block.rows):
            is_joint = row.action or len(row.steps) > 1 or "together" in row.instruction
            assert told or is_joint or row.expected, row.instruction


def test_every_hold_is_numbered_in_order_and_signed(view):
    holds = [step for step in steps(view) if step.hold]
    assert [step.hold for step in holds] == [f"HOLD {n}" for n in range(1, len(holds) + 1)]
    assert all(len(row.steps) == 1 for row in rows(view) if row.hold)


def test_rows_are_numbered_without_gaps(view):
    for phase in view.phases:
        numbers = [row.number for block in phase.blocks for row in block.rows]
        assert numbers == [f"{phase.letter}{n}" for n in range(1, len(numbers) + 1)]


def test_every_changed_wire_stands_in_a_step(view):
    marks = {step.mark for step in steps(view)}
    for row in view.changed:
        assert row.mark in marks, row.mark


def test_counts_add_up_to_the_wires(view):
    counted = {count.word: count.number for count in view.counts if count.number}
    told = Counter(row.action for row in view.changed)
    assert counted == {**told, **({"KEEP": len(view.kept)} if view.kept else {})}


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


AS_FOUND = [
    ("rear_as_found", "rear_upgraded"),
    ("roadster_original", "roadster_alternator"),
    ("saloon_as_found", "saloon_negative_alternator"),
]


@pytest.mark.parametrize("pair", AS_FOUND, ids="→".join)
def test_no_tick_names_an_end_and_says_nothing_of_it(pair):
    """A wire that is moved with its terminal on it: the box says so."""
    ticks = [step.tick for row in rows_of(pair) for step in row.steps]
    assert not [tick for tick in ticks if tick.rstrip().endswith(":")]


@every_case("pair", AS_FOUND)
def test_fuses_are_named_as_people_say_it(pair):
    """The slot in words, the rating before the fuse, and no fuse that is fitted in a fuse."""
    texts = [f"{row.instruction} {' '.join(row.details)}" for row in rows_of(pair)]
    fuses = [text for text in texts if re.search(r"\bFit the [\d.]+\sA fuse\b", text)]
    assert fuses
    assert not [text for text in texts if "_" in text or "Fit the fuse of" in text]


@cache
def rows_of(pair):
    view = sheet_view(planned(*pair), SheetOptions(date="2026-01-02"))
    return [row for phase in view.phases for block in phase.blocks for row in block.rows]
