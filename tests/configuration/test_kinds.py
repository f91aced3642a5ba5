"""Kinds as data: one that says too little, or what cannot be, refuses to load and says why."""

import pytest
from every_case import every_case

from upgrade_planner.configuration.kinds import Family, TerminalUse
from upgrade_planner.configuration.registry import kinds, kinds_in
from upgrade_planner.electrical.circuit import MODELS
from upgrade_planner.errors import ConfigurationError

SHUNT = """
[shunt]
words = "shunt"
letter = "R"
terminals = ["in", "out"]
ratings = { resistance = "resistance" }
family = "ammeter"
model = "joins only"
passes = [{ between = ["in", "out"], as = "contact", when = "always" }]
fed = []
returns = []
"""


def faults_of(text):
    with pytest.raises(ConfigurationError) as caught:
        kinds_in(text)
    return [str(problem) for problem in caught.value.problems]


def test_complete_kind_loads():
    assert kinds_in(SHUNT)["shunt"].family is Family.AMMETER


@every_case("key", ["words", "family", "model", "passes", "fed", "returns"])
def test_missing_key_is_named_with_its_kind(key):
    lines = [line for line in SHUNT.splitlines() if not line.startswith(f"{key} =")]
    (fault,) = faults_of("\n".join(lines))
    assert fault.startswith(f"kinds.toml: shunt.{key}: found nothing; expected ")


@every_case(
    ("right", "wrong", "expected"),
    [
        ('"ammeter"', '"meter"', "shunt.family: found 'meter'; expected one of battery, "),
        ('"contact"', '"copper"', "shunt.passes.as: found 'copper'; expected one of contact, "),
        ('["in", "out"], as', '["in", "up"], as', "shunt.passes: found 'up'; expected one of its"),
        ('["in", "out"], as', '["in"], as', "expected between = two terminals"),
        ('"always"', '"cranking"', "expected without a model of its own: always, as one of"),
        ('"contact"', '"resistance"', 'expected beside it the rating resistance = "resistance!"'),
        ("fed = []", 'fed = ["lug"]', "shunt.fed: found 'lug'; expected one of its terminals"),
        ("returns = []", 'returns = []\nplays = { x = "in" }', "shunt.plays: found 'x'; expected"),
    ],
)
def test_entry_that_cannot_be_is_named(right, wrong, expected):
    faults = faults_of(SHUNT.replace(right, wrong))
    assert any(expected in fault for fault in faults), faults


def test_faults_of_all_kinds_are_told_at_once():
    two = SHUNT.replace('"ammeter"', '"meter"') + SHUNT.replace("[shunt]", "[bar]").replace(
        'letter = "R"', ""
    )
    assert len(faults_of(two)) == 2


def test_every_kind_names_a_model_that_there_is():
    assert {kind.model for kind in kinds().values()} <= set(MODELS)


def test_parts_that_terminals_play_differ_from_their_names():
    for kind in kinds().values():
        for job, name in kind.plays.items():
            assert job != name
            assert job in set(TerminalUse)
