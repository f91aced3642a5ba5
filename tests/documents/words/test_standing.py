"""What standing steps, readings and messages about danger say: each something, in either unit."""

import re
import tomllib
from importlib import import_module
from pathlib import Path

import pytest
from every_case import every_case
from pair_facts import compared, planned

from upgrade_planner.documents.words.standing import (
    hazard_words,
    procedure_words,
    reading_words,
)
from upgrade_planner.documents.words.written import written_table
from upgrade_planner.planning.facts import facts_of
from upgrade_planner.planning.operations import Procedure
from upgrade_planner.planning.standing_data import Limit, hazards, readings, standing_steps

ROOT = Path(import_module("upgrade_planner").__file__).parent
DATA = {
    "steps": ("planning/data/procedures.toml", "procedure", "id"),
    "hazards": ("planning/data/hazards.toml", "hazard", "id"),
    "readings": ("planning/data/readings.toml", "reading", "id"),
}
OF_EVERY_JOB = {"photographs", "tags"}
TYPED_FIGURE = re.compile(
    r"\d ?(?:mm|cm|m|km|in|ft|mm²|°C|°F|V|mV|A|mA|W|Ω|ohm|s|r/min|kg|lb|N·m|Nm)(?![\w'])"
)
TYPED_PHASE = re.compile(r"[Pp]hases? [A-L]\b")
PAIR = ("roadster_original", "roadster_pump_cut_off")


def entries(file, key):
    return tomllib.loads((ROOT / file).read_text(encoding="utf-8"))[key]


def texts(value):
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for one in value.values():
            yield from texts(one)
    elif isinstance(value, list):
        for one in value:
            yield from texts(one)


@pytest.fixture(scope="module")
def facts():
    """Those of a job in which every flag is true, so that nothing is left out."""
    return {k: v is False or v for k, v in facts_of(compared(*PAIR)).items()}


@every_case("name", DATA)
def test_what_stands_in_the_data_has_words_and_the_other_way_round(name):
    file, key, code = DATA[name]
    wanted = {entry[code] for entry in entries(file, key)}
    if name == "steps":
        conversions = entries("comparison/data/conversions.toml", "treatment")
        wanted |= {entry["do"] for entry in conversions if entry["action"] == "convert"}
        wanted |= OF_EVERY_JOB
    assert set(written_table(name)) == wanted


@every_case("name", [*DATA, "reasons"])
def test_no_sentence_holds_a_figure_with_a_unit_or_a_phase_of_its_own(name):
    told = " | ".join(texts(dict(written_table(name))))
    assert TYPED_FIGURE.findall(told) == []
    assert TYPED_PHASE.findall(told) == []


@every_case("file", [file for file, _, _ in DATA.values()])
def test_no_data_of_planning_says_anything_but_sources(file):
    for entry in (
        e for entries_of in tomllib.loads((ROOT / file).read_text()).values() for e in entries_of
    ):
        said = [
            {key: value for key, value in own.items() if key not in ("source", "instead")}
            for own in (entry, *entry.get("instead", ()))
        ]
        assert not [text for text in texts(said) if len(text.split()) > 2], entry["id"]


@every_case("units", ["metric", "us", "both"])
def test_everything_can_be_told(facts, units):
    steps = [step.procedure for step in standing_steps(facts, "ABCDEFGHIJKL")]
    assert all(procedure_words(step, units).instruction.endswith(".") for step in steps)
    assert all(hazard_words(hazard, units).avoid for hazard in hazards(facts))
    told = [reading_words(r, units) for r in readings(facts, compared(*PAIR).after)]
    assert all(words.condition and words.limit and words.source for words in told)


def test_lengths_and_temperatures_follow_the_units(facts):
    (tied,) = (s.procedure for s in standing_steps(facts, "A") if s.procedure.code == "tie-back")
    assert "150 mm" in procedure_words(tied, "metric").expected
    assert "5.9 in" in procedure_words(tied, "us").expected
    (cold,) = (r for r in planned(*PAIR).readings if r.id == "battery-cranking")
    assert reading_words(cold, "both").limit.startswith("min 9.6 V at 21 °C, 9.4 V at 10 °C")
    assert reading_words(cold, "us").limit.startswith("min 9.6 V at 70 °F, 9.4 V at 50 °F")


def test_phases_are_named_by_their_letters(facts):
    (rest,) = (
        s.procedure for s in standing_steps(facts, "A") if s.procedure.code == "rest-voltage"
    )
    assert procedure_words(rest, "metric").expected.endswith("charge it before phase J.")


@every_case(
    ("limit", "words"),
    [
        (Limit(min_v=9.6), "min 9.6 V"),
        (Limit(max_v=0.7, at_a=20.0), "max 0.7 V at 20 A"),
        (Limit(min_v=5.0, max_v=7.0), "5 to 7 V"),
        (Limit(min_v=0.0, max_v=0.0), "0 V"),
        (Limit(compared_with="battery"), "compare with the battery voltage"),
    ],
)
def test_a_limit_is_told_by_what_it_has(limit, words):
    from attrs import evolve

    reading = evolve(planned(*PAIR).readings[0], limit=limit)
    assert reading_words(reading, "metric").limit == words


def test_conversions_keep_their_ids_whatever_their_words_are():
    plan = planned("saloon_original", "saloon_negative_dynamo")
    ids = {op.id for op in plan.operations if isinstance(op, Procedure)}
    assert {"procedure:convert:battery:turn-battery"} <= ids
