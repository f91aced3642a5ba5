"""The recipe of the contributor guide for a new electrical model, followed to the letter."""

import shutil

import pytest
from recipes import blocks_of_recipe

from upgrade_planner.configuration import registry
from upgrade_planner.configuration.loading import load_configuration
from upgrade_planner.configuration.model import TerminalRef
from upgrade_planner.electrical import circuit
from upgrade_planner.electrical.circuit import UnknownModel
from upgrade_planner.electrical.models import assumptions, consumers
from upgrade_planner.electrical.operating_points import operating_points

(MODEL,) = blocks_of_recipe("An electrical model")
KIND = """
[intake_heater]
words = "intake heater"
letter = "E"
terminals = ["supply"]
optional_terminals = ["return", "case"]
ratings = { power = "power!", rated_voltage = "voltage!" }
family = "load"
model = "intake_heater"
passes = []
fed = ["supply"]
returns = ["return", "case"]
"""
VAN = """
[configuration]
title = "The upgraded van with a heater in its intake"
summary = "For cold mornings."
based_on = "van_upgraded"

[changes]
[[changes.add_wires]]
id = "intake-feed"
circuit = "accessory"
from = "ignition_switch.ignition"
to = "intake_heater.supply"
size = "10 SAE"
colour = "OG"
insulation = "GXL"

[[changes.add_component]]
role = "intake_heater"
kind = "intake_heater"
name = "Heater of the intake"
place = "bulkhead_engine_side"
terminals = [
  { name = "supply", label = "+", connection = "stud M5" },
  { name = "case", label = "body", connection = "case" },
]
ratings = { power = "60 W", rated_voltage = "12 V" }
"""


@pytest.fixture
def van(tmp_path, monkeypatch):
    """A configuration with a part of a kind that names the model."""
    shutil.copytree(registry._DATA, tmp_path / "data")
    with (tmp_path / "data" / "kinds.toml").open("a", encoding="utf-8") as kinds:
        kinds.write(KIND)
    monkeypatch.setattr(registry, "_DATA", tmp_path / "data")
    registry.kinds.cache_clear()
    file = tmp_path / "heated.toml"
    file.write_text(VAN, encoding="utf-8")
    yield load_configuration(str(file))
    monkeypatch.undo()
    registry.kinds.cache_clear()


def test_its_current_is_that_of_the_loop_worked_by_hand(van, monkeypatch):
    monkeypatch.setattr(assumptions, "COLD_GRID_RATIO", 0.9, raising=False)
    inside = dict(vars(consumers))
    exec(MODEL, inside)
    models = {**circuit.MODELS, "intake_heater": inside["intake_heater"]}
    monkeypatch.setattr(circuit, "MODELS", models)
    points = operating_points(van)
    across_v = points["key_on"].live_v(TerminalRef("intake_heater", "supply"))
    # 12² V² / 60 W × 0.9 = 2.16 Ω; what the case drops to ground is below a hundredth
    assert points["key_on"].wire_current_a("intake-feed") == pytest.approx(
        across_v / 2.16, rel=0.01
    )
    assert points["off"].wire_current_a("intake-feed") == pytest.approx(0.0, abs=1e-6)


def test_a_model_that_is_not_in_the_list_is_named(van):
    with pytest.raises(UnknownModel, match="intake_heater"):
        operating_points(van)
