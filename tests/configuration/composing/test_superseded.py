"""A configuration that names another system: what its base said of the old one is void."""

import pytest

from upgrade_planner.configuration.loading import load_configuration
from upgrade_planner.errors import ConfigurationError
from upgrade_planner.library.fitting import with_fitting_vehicles


@pytest.fixture
def based_on(tmp_path):
    def load(base, text, **others):
        for name, content in others.items():
            (tmp_path / f"{name}.toml").write_text(content, encoding="utf-8")
        path = tmp_path / "mine.toml"
        header = f'[configuration]\ntitle = "Mine"\nsummary = "x"\nbased_on = "{base}"\n'
        path.write_text(header + text, encoding="utf-8")
        return load_configuration(str(path))

    return load


def test_overrides_and_changes_of_the_old_system_are_void(based_on):
    mine = based_on("tractor_original", '[systems]\nignition = "integral_coil_distributor"\n')
    assert "coil" not in mine.component_by_role
    assert "coil-feed" not in mine.wire_by_id
    # the base gave its thin feed 2.5 mm²; that was the feed of the old coil
    assert mine.wire_by_id["ignition-feed"].size.label == "6\N{NO-BREAK SPACE}mm²"


def test_changes_of_other_systems_stay(based_on):
    mine = based_on("tractor_original", '[systems]\nignition = "integral_coil_distributor"\n')
    base = load_configuration("tractor_original")
    assert mine.component("starter").ratings["cranking_current"] == 120
    assert mine.wire_by_id["charge-output"] == base.wire_by_id["charge-output"]


def test_changes_of_the_file_that_chose_the_system_count(based_on):
    mine = based_on(
        "tractor_original",
        '[systems]\nignition = "integral_coil_distributor"\n'
        "[overrides.distributor]\ncylinders = 3\n"
        '[changes]\nchange_wires = [ { id = "ignition-feed", size = "4 mm²" } ]\n',
    )
    assert mine.component("distributor").ratings["cylinders"] == 3
    assert mine.wire_by_id["ignition-feed"].size.label == "4\N{NO-BREAK SPACE}mm²"


def test_the_same_system_named_again_voids_nothing(based_on):
    mine = based_on("tractor_original", '[systems]\nignition = "points_ballast"\n')
    base = load_configuration("tractor_original")
    assert mine.digest == base.digest


def test_an_earlier_owners_wire_to_the_old_coil_goes_with_it(based_on):
    mine = based_on("van_as_found", '[systems]\nignition = "integral_coil_distributor"\n')
    assert "found-bypass" not in mine.wire_by_id
    assert "found-tachometer-end" in mine.wire_by_id  # it ends at the tachometer, which stays


def test_a_wire_of_ones_own_to_a_missing_part_is_still_a_fault(based_on):
    wire = (
        '{ id = "mine", circuit = "ignition feed", from = "vehicle.ignition", to = "coil.live", '
        'size = "4 mm²", colour = "RD", insulation = "GXL" }'
    )
    with pytest.raises(ConfigurationError, match="no role 'coil'"):
        based_on(
            "tractor_original",
            '[systems]\nignition = "integral_coil_distributor"\n'
            f"[changes]\nadd_wires = [ {wire} ]\n",
        )


VEHICLE = """
[vehicle]
title = "Eight"
summary = "x"
voltage = "12 V"
ground = "negative"
size_system = "SAE"
slots = ["ignition"]
cylinders = 8
[[place]]
id = "block"
name = "block"
space = "engine"
metal = "engine"
[mounting]
distributor = "block"
coil = "block"
[[component]]
role = "battery"
kind = "battery"
name = "Battery"
place = "block"
terminals = [
  { name = "positive", label = "+", connection = "post positive" },
  { name = "negative", label = "-", connection = "post negative" },
]
ratings = { emf = "12.6 V", internal_resistance = "10 mohm" }
"""
SYSTEM = """
[system]
name = "Points"
slot = "ignition"
summary = "x"
[[component]]
role = "distributor"
kind = "points_distributor"
name = "Distributor"
terminals = [ { name = "points", label = "1", connection = "stud M4" } ]
ratings = { cylinders = 6, dwell_angle = "38 deg" }
"""


def test_the_vehicle_says_how_many_cylinders_there_are(tmp_path):
    (tmp_path / "eight.toml").write_text(VEHICLE, encoding="utf-8")
    (tmp_path / "points.toml").write_text(SYSTEM, encoding="utf-8")
    path = tmp_path / "mine.toml"
    head = '[configuration]\ntitle = "Mine"\nsummary = "x"\nvehicle = "eight.toml"\n'
    path.write_text(head + '[systems]\nignition = "points.toml"\n', encoding="utf-8")
    ratings = load_configuration(str(path)).component("distributor").ratings
    assert ratings["cylinders"] == 8
    assert ratings["dwell_angle"] == pytest.approx(38 * 6 / 8)  # the same share of the period


def test_another_size_keeps_the_insulation_that_the_vehicle_has(based_on):
    change = '[as_found]\nchange_wires = [ { id = "charge-output", size = "14 SAE" } ]\n'
    wire = based_on("van_original_ballast", change).wire_by_id["charge-output"]
    assert (wire.size.label, wire.insulation.name) == ("14\N{NO-BREAK SPACE}SAE", "GPT")


def test_a_slot_that_the_vehicle_lacks_is_one_fault_and_names_vehicles_that_have_it(based_on):
    with pytest.raises(ConfigurationError) as caught:
        based_on("saloon_original", '[systems]\nfuel = "fuel_pump_relay"\n')
    (problem,) = with_fitting_vehicles(caught.value).problems
    assert "a slot 'fuel'" in problem.found
    assert "'fuel_pump_relay' fits as it is: " in problem.expected
    assert "carrier_van" in problem.expected
