"""The plan as data says what a screen needs without reading sentences."""

import pytest
from as_data import data_of
from every_case import every_case
from pair_facts import planned

from upgrade_planner.documents.worksheet.plan_json import plan_json
from upgrade_planner.documents.worksheet.title_block import SheetOptions
from upgrade_planner.kit.cable import cut_length_m
from upgrade_planner.planning.operations import Procedure

PAIR = ("van_original_resistance", "van_upgraded")


def plan_as_data(pair, **options):
    return data_of(plan_json(planned(*pair), SheetOptions(date="2026-01-02", **options)))


@pytest.fixture(scope="module")
def data():
    return plan_as_data(PAIR)


def step_of(data, standing):
    return next(step for step in data["steps"] if step.get("standing") == standing)


def test_every_value_in_volts_or_ohms_can_be_judged(data):
    for step in data["steps"]:
        if step.get("unit") in ("V", "Ω") and not step["readings"]:
            assert step["judged"], step["id"]
            for one in step["judged"]:
                assert one["held"] == "open circuit" or (one["of"] == "leads") != (
                    one["value"] is not None
                )


def test_no_short_is_judged_against_the_leads_held_together(data):
    step = step_of(data, "hold-no-short")
    assert step["hold"]
    assert step["judged"] == [{"held": "above", "value": None, "of": "leads"}]


@every_case(
    ("pair", "volts"),
    [(PAIR, 12.4), (("six_volt_tractor_original", "six_volt_tractor_trigger"), 6.2)],
)
def test_figure_that_is_judged_is_the_figure_that_is_printed(pair, volts):
    step = step_of(plan_as_data(pair), "rest-voltage")
    assert step["judged"] == [{"held": "at least", "value": volts, "of": ""}]
    assert f"{volts} V" in step["expected"]


def test_wire_says_its_cut_length_its_way_and_its_ends(data):
    after = planned(*PAIR).comparison.after
    wire = next(row["after"] for row in data["wires"] if row["mark"] == "charge-output")
    assert wire["cut_length_m"] == float(cut_length_m(after.wire_by_id["charge-output"], after))
    assert wire["cut_length_m"] > wire["length_m"]
    (end, _) = wire["ends"]
    assert end["printed"] == "alternator output (B+)"
    assert end["hardware"].startswith("stud")
    assert end["place"] in data["places"]


def test_step_keeps_its_digest_whatever_its_number_and_loses_it_with_its_content(data):
    again = plan_as_data(PAIR, sheet_number="WS-7", revision="C")
    digests = {step["id"]: step["digest"] for step in data["steps"]}
    assert {step["id"]: step["digest"] for step in again["steps"]} == digests
    other = {
        step["id"]: step["digest"]
        for step in plan_as_data(("van_as_found", "van_upgraded"))["steps"]
    }
    shared = digests.keys() & other.keys()
    assert any(digests[name] == other[name] for name in shared)
    assert any(digests[name] != other[name] for name in shared)


def test_every_hold_says_which_it_is(data):
    holds = [op for op in planned(*PAIR).operations if isinstance(op, Procedure) and op.hold]
    assert len({op.code for op in holds if op.is_standing}) == len(holds) > 0
    assert all(step["standing"] for step in data["steps"] if step.get("hold"))


def test_every_key_of_the_plan_stands_in_the_guide(data):
    from places import ROOT

    guide = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    section = guide[guide.index("## The plan as data") : guide.index("## Findings as data")]
    for key in data:
        assert f"`{key}" in section, key


def test_what_is_made_at_an_end_is_named_as_an_article(data):
    made = [
        fitting
        for step in data["steps"]
        for fitting in step.get("joint", {}).get("stack", ())
        if fitting["new"]
    ]
    assert made
    assert all(fitting["item"] for fitting in made)
