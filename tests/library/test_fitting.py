"""Which systems fit which vehicles: a small library of two vehicles in a temporary folder."""

from functools import cache

import pytest
from building import CHARGING, CONFIGURATION, IGNITION, VEHICLE
from every_case import every_case

from upgrade_planner.configuration.files import shipped
from upgrade_planner.configuration.loading import load_configuration
from upgrade_planner.errors import ConfigurationError, PlannerError
from upgrade_planner.library import fitting
from upgrade_planner.library.collected import load_library
from upgrade_planner.library.fitting import (
    configurations_of,
    fits_of_vehicle,
    shipped_uses,
    vehicles_that_fit,
    what_is_missing,
    with_fitting_vehicles,
)
from upgrade_planner.library.proposing import proposals

LAMPLESS = VEHICLE.replace('role = "charge_lamp"', 'role = "oil_lamp"').replace(
    "charge_lamp.supply", "oil_lamp.supply"
)
ONE_WIRE = "\n".join(row for row in CHARGING.splitlines() if 'id = "charge-lamp"' not in row)
NEEDS_BYPASS = IGNITION.replace("key.ignition", "starter.bypass")
STARTING = """\
[system]
name = "Starter"
slot = "starting"
summary = "Starter with bypass contact."

[[component]]
role = "starter"
kind = "starter"
name = "Starter"
place = "block"
terminals = [
  { name = "battery", label = "30", connection = "stud M8" },
  { name = "solenoid", label = "50", connection = "stud M5" },
  { name = "bypass", label = "15a", connection = "stud M5" },
]
ratings = { cranking_current = "150 A" }
"""


def configuration(vehicle, **systems):
    text = CONFIGURATION.partition("[systems]")[0].replace("vehicle.toml", vehicle)
    return text + "[systems]\n" + "".join(f'{slot} = "{name}"\n' for slot, name in systems.items())


@pytest.fixture
def library(tmp_path, monkeypatch):
    """Profiles by folder and name; returns the function that writes one more."""
    folder = tmp_path / "profiles"

    def write(kind, name, text):
        (folder / kind).mkdir(parents=True, exist_ok=True)
        (folder / kind / f"{name}.toml").write_text(text, encoding="utf-8")
        forget()

    def forget():
        for cached in (
            fitting.shipped_uses,
            fitting._vehicle,
            fitting.read_system,
            fitting.systems_for,
            shipped._profiles_in,
        ):
            cached.cache_clear()

    monkeypatch.setattr(shipped, "shipped_folder", lambda _: folder)
    write("vehicles", "lamp_van", VEHICLE)
    write("vehicles", "plain_van", LAMPLESS)
    write("systems", "points", IGNITION)
    write("systems", "lamp_alternator", CHARGING)
    write("systems", "lone_alternator", ONE_WIRE)
    write(
        "configurations",
        "lamp_van_built",
        configuration("lamp_van", ignition="points", charging="lamp_alternator"),
    )
    write(
        "configurations",
        "plain_van_built",
        configuration("plain_van", ignition="points", charging="lone_alternator"),
    )
    yield write
    forget()


class TestFits:
    def test_a_system_fits_where_its_roles_are_offered(self, library):
        assert vehicles_that_fit("lone_alternator") == ("lamp_van", "plain_van")
        assert vehicles_that_fit("lamp_alternator") == ("lamp_van",)

    def test_what_is_missing_names_the_role_and_no_file(self, library):
        assert what_is_missing("lamp_alternator", "lamp_van") == ()
        (missing,) = what_is_missing("lamp_alternator", "plain_van")
        assert missing == "no role 'charge_lamp'"

    def test_a_place_that_is_missing_is_told(self, library):
        library("vehicles", "small_van", VEHICLE.replace('alternator = "block"\n', ""))
        (missing,) = what_is_missing("lone_alternator", "small_van")
        assert "no place for the role 'alternator' in small_van" in missing

    def test_a_vehicle_without_the_slot(self, library):
        library("systems", "starter", STARTING)
        assert what_is_missing("starter", "lamp_van") == ("no slot 'starting'",)

    def test_a_vehicle_that_no_configuration_uses_is_tried_with_all_systems(self, library):
        library("vehicles", "new_van", VEHICLE.replace("Little van", "New van"))
        assert "new_van" in vehicles_that_fit("lamp_alternator")

    def test_what_another_system_can_give_is_not_missing(self, library):
        with_starter = VEHICLE.replace('"charging"]', '"charging", "starting"]')
        library("vehicles", "bypass_van", with_starter)
        library("systems", "bypass_points", NEEDS_BYPASS)
        assert what_is_missing("bypass_points", "lamp_van") == ("no role 'starter'",)
        library("systems", "starter", STARTING)
        assert what_is_missing("bypass_points", "bypass_van") == ()

    def test_a_faulty_partner_is_not_held_against_a_system(self, library):
        library("systems", "a_bad_one", IGNITION.replace("key.ignition", "nothing.there"))
        library("vehicles", "new_van", VEHICLE)
        assert what_is_missing("lamp_alternator", "new_van") == ()

    def test_every_system_of_a_vehicle_by_slot(self, library):
        library("systems", "broken", "[system]\nname = 5\n")
        fits, left_out = fits_of_vehicle("plain_van")
        found = [(fit.slot, fit.system, fit.fits) for fit in fits]
        assert found == [
            ("ignition", "points", True),
            ("charging", "lamp_alternator", False),
            ("charging", "lone_alternator", True),
        ]
        assert [row.split(":")[0] for row in left_out] == ["broken"]

    def test_unknown_names_are_errors(self, library):
        with pytest.raises(PlannerError, match="no_such"):
            what_is_missing("no_such", "lamp_van")
        with pytest.raises(PlannerError, match="no_such"):
            fits_of_vehicle("no_such")

    def test_shipped_systems_fit_the_vehicles_of_their_configurations(self, load):
        for name in ("van_original_ballast", "van_upgraded", "tractor_original"):
            loaded = load(name)
            for system in loaded.systems.values():
                assert what_is_missing(system, loaded.vehicle.name) == ()


class TestErrorText:
    def test_a_system_that_does_not_fit_says_which_vehicles_it_fits(self, library, tmp_path):
        path = tmp_path / "mine.toml"
        path.write_text(configuration("plain_van", ignition="points", charging="lamp_alternator"))
        with pytest.raises(ConfigurationError) as caught:
            load_configuration(str(path))
        (problem,) = with_fitting_vehicles(caught.value).problems
        assert "'charge_lamp'" in problem.found
        assert problem.expected.endswith("'lamp_alternator' fits as it is: lamp_van")

    def test_a_system_of_ones_own_brings_no_such_hint(self, library, tmp_path):
        (tmp_path / "own.toml").write_text(CHARGING)
        path = tmp_path / "mine.toml"
        path.write_text(configuration("plain_van", ignition="points", charging="own.toml"))
        with pytest.raises(ConfigurationError) as caught:
            load_configuration(str(path))
        assert "fits as it is" not in str(with_fitting_vehicles(caught.value))


class TestUses:
    def test_systems_follow_the_chain(self, library):
        library(
            "configurations",
            "changed",
            (
                '[configuration]\ntitle = "x"\nsummary = "x"\nbased_on = "lamp_van_built"\n'
                '[systems]\ncharging = "lone_alternator"\n'
            ),
        )
        use = next(use for use in shipped_uses() if use.configuration == "changed")
        assert use.vehicle == "lamp_van"
        assert use.systems == {"ignition": "points", "charging": "lone_alternator"}
        assert configurations_of("lamp_van") == ("changed", "lamp_van_built")

    @every_case(
        "header",
        [
            "",
            "based_on = 'round'",
            "based_on = 'missing'",
            "vehicle = 5",
        ],
    )
    def test_a_configuration_without_a_root_is_no_use(self, library, header):
        library("configurations", "round", f"[configuration]\n{header}\n")
        assert "round" not in {use.configuration for use in shipped_uses()}

    def test_a_faulty_configuration_is_left_out_of_the_library(self, library):
        library("configurations", "faulty", "[configuration]\n")
        loaded = load_library()
        assert [one.name for one in loaded.shipped] == ["lamp_van_built", "plain_van_built"]
        assert [one.name for one in loaded.left_out] == ["faulty"]
        assert "faulty.toml" in loaded.left_out[0].reason


class TestProposals:
    def test_the_nearest_comes_first_and_ties_are_in_order_of_names(self, library):
        found = proposals({"charging": ("alternator_lamp",)}, load_library())
        assert [one.name for one in found] == ["lamp_van_built", "plain_van_built"]
        tied = proposals({"voltage": ("12",)}, load_library())
        assert [one.name for one in tied] == ["lamp_van_built", "plain_van_built"]
        assert tied[0].match.points == tied[1].match.points

    def test_alterations_found_in_one_vehicle_stand_behind_the_same_without(self, library):
        library(
            "configurations",
            "a_found",
            (
                '[configuration]\ntitle = "x"\nsummary = "x"\nbased_on = "lamp_van_built"\n'
                '[as_found]\nchange_wires = [{ id = "charge-lamp", colour = "RD" }]\n'
            ),
        )
        found = proposals({"charging": ("alternator_lamp",)}, load_library())
        assert [one.name for one in found[:2]] == ["lamp_van_built", "a_found"]
        assert [one.is_altered for one in found[:2]] == [False, True]
        assert found[0].match.points == found[1].match.points

    def test_a_combination_stands_first_where_it_is_clearly_nearer(self, library):
        library(
            "systems",
            "resistance",
            IGNITION.replace(
                'size = "14 SAE", colour = "BU", insulation = "GPT"',
                'size = "20 AWG", colour = "BU", insulation = "SXL", '
                'conductor = "resistance wire", '
                'resistance = "1.4 ohm"',
            ),
        )
        wanted = {
            "charging": ("alternator_lamp",),
            "ignition": ("points_resistance_wire",),
            "cylinders": ("6",),
        }
        first, second, *_ = proposals(wanted, load_library())
        assert first.is_combination
        assert first.name == "lamp_van"
        assert first.systems == {"charging": "lamp_alternator", "ignition": "resistance"}
        assert first.overrides == {"distributor": {"cylinders": 6}}
        assert first.match.points == first.match.possible > second.match.points

    def test_a_combination_that_is_no_nearer_is_not_proposed(self, library):
        found = proposals({"charging": ("alternator_lamp",)}, load_library())
        assert not any(one.is_combination for one in found)

    def test_a_combination_that_is_hardly_nearer_stands_second(self, library, monkeypatch):
        from upgrade_planner.library import proposing

        library(
            "systems",
            "resistance",
            IGNITION.replace(
                'size = "14 SAE", colour = "BU", insulation = "GPT"',
                'size = "20 AWG", colour = "BU", insulation = "SXL", '
                'conductor = "resistance wire", '
                'resistance = "1.4 ohm"',
            ),
        )
        monkeypatch.setattr(proposing, "CLEAR_GAIN", 100.0)
        wanted = {"charging": ("alternator_lamp",), "ignition": ("points_resistance_wire",)}
        first, second, *_ = proposals(wanted, load_library())
        assert not first.is_combination
        assert second.is_combination


SALOON_ON_SIX_VOLTS = {
    "body": ("saloon",),
    "voltage": ("6",),
    "ground": ("positive",),
    "cylinders": ("4",),
    "charging": ("dynamo_control_box",),
    "starting": ("mechanical_switch",),
}


@cache
def whole_library():
    """All that ships, read once."""
    return load_library()


class TestBodies:
    """Where things sit counts more than what the program writes in by itself."""

    def test_a_car_starts_from_a_car_though_a_tractor_has_its_voltage(self):
        first = proposals(SALOON_ON_SIX_VOLTS, whole_library())[0]
        assert first.configuration.vehicle.name == "dynamo_saloon"

    @every_case(
        ("body", "vehicle"),
        [("sedan", "dynamo_saloon"), ("mower", "six_volt_tractor"), ("lorry", "wing_relay_pickup")],
    )
    def test_other_words_for_a_sort_are_understood(self, body, vehicle):
        wanted = {"body": (body,), "voltage": ("6",), "ground": ("positive",)}
        near = [one.configuration.vehicle.name for one in proposals(wanted, whole_library())[:2]]
        assert vehicle in near

    def test_what_no_upgrade_leads_to_stands_before_its_equals(self):
        found = proposals({"body": ("farm tractor",), "voltage": ("6",)}, whole_library())
        assert found[0].name == "six_volt_tractor_original"
