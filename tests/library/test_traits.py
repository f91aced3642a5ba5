"""What one sees of a configuration: drawn from parts, terminals and wires, never from names."""

import pytest
from building import Garage
from every_case import every_case

from upgrade_planner.configuration.registry import kinds
from upgrade_planner.library.trait_matching import (
    BadFilter,
    checked_filter,
    has_words,
    is_wanted,
    match_of,
)
from upgrade_planner.library.traits import (
    NONE,
    OTHER,
    cylinders_in,
    subjects,
    trait_facts,
    trait_for,
    traits_of,
)


def seen(garage: Garage, name: str):
    return traits_of(garage.load())[name]


class TestCharging:
    def test_lamp_terminal(self, garage):
        assert seen(garage, "charging").ids == ("alternator_lamp",)

    def test_din_lamp_terminal_by_its_mark(self, garage):
        garage.spoil("charging", 'name = "lamp", label = "lamp"', 'name = "lamp", label = "D+"')
        assert seen(garage, "charging").ids == ("alternator_din_lamp",)

    def test_terminal_without_a_wire_does_not_count(self, garage):
        text = garage.text("charging")
        line = next(row for row in text.splitlines() if "charge-lamp" in row)
        garage.write("charging", text.replace(line, ""))
        assert seen(garage, "charging").ids == ("alternator_one_wire",)

    def test_sensing_terminal_shows(self, garage):
        garage.spoil(
            "charging",
            '{ name = "case"',
            '{ name = "sense", label = "sense", connection = "blade 6.3 mm" },\n  { name = "case"',
        )
        garage.spoil(
            "charging",
            '  { id = "charge-lamp"',
            '  { id = "sensing", circuit = "sensing", from = "battery.live", '
            'to = "alternator.sense", size = "14 SAE", colour = "RD", insulation = "GXL" },\n'
            '  { id = "charge-lamp"',
        )
        assert seen(garage, "charging").ids == ("alternator_lamp_and_sense",)

    @every_case(
        ("regulator", "sort"),
        [
            ('kind = "regulator_electromechanical"', "dynamo_control_box"),
            ('kind = "cut_out"', "dynamo_cut_out"),
        ],
    )
    def test_dynamo_by_what_stands_beside_it(self, garage, regulator, sort):
        garage.write(
            "charging",
            DYNAMO.replace('kind = "REGULATOR"', regulator)
            .replace(
                "RATINGS",
                'set_point = "14.2 V"' if "mechanical" in regulator else 'closing = "13 V"',
            )
            .replace(
                "MORE",
                (
                    '{ name = "field", label = "DF", connection = "screw M5" },'
                    if "mechanical" in regulator
                    else ""
                ),
            ),
        )
        trait = seen(garage, "charging")
        assert trait.ids == (sort,)
        assert trait.families == {"dynamo"}


DYNAMO = """\
[system]
name = "Dynamo"
slot = "charging"
summary = "Dynamo."

[[component]]
role = "alternator"
kind = "dynamo"
name = "Dynamo"
terminals = [
  { name = "armature", label = "D+", connection = "stud M6" },
  { name = "field", label = "DF", connection = "blade 6.3 mm" },
]
ratings = { rated_output = "20 A" }

[[component]]
role = "regulator"
kind = "REGULATOR"
name = "Box"
place = "bulkhead"
terminals = [
  { name = "armature", label = "D+", connection = "screw M5" },
  { name = "supply", label = "B+", connection = "screw M5" },
  MORE
]
ratings = { RATINGS }

[wiring]
wires = [
  { id = "dynamo-output", circuit = "charge output", from = "alternator.armature", to = "regulator.armature", size = "10 SAE", colour = "RD", insulation = "GPT" },
  { id = "charge-output", circuit = "charge output", from = "regulator.supply", to = "battery.live", size = "10 SAE", colour = "RD", insulation = "GPT" },
]
"""  # noqa: E501


class TestIgnition:
    def test_points_without_anything_before_the_coil(self, garage):
        assert seen(garage, "ignition").ids == ("points_full_voltage",)

    def test_resistance_wire(self, garage):
        garage.spoil(
            "ignition",
            'to = "coil.positive", size = "14 SAE", colour = "BU", insulation = "GPT"',
            'to = "coil.positive", size = "20 AWG", colour = "BU", insulation = "SXL", '
            'conductor = "resistance wire", resistance = "1.4 ohm"',
        )
        assert seen(garage, "ignition").ids == ("points_resistance_wire",)

    def test_kind_that_the_table_does_not_know_is_told_in_its_own_words(self, garage):
        garage.write("ignition", UNKNOWN)
        trait = seen(garage, "ignition")
        assert trait.ids == (OTHER,)
        assert trait.words == kinds()["diode"].words


UNKNOWN = """\
[system]
name = "Strange"
slot = "ignition"
summary = "Nobody knows."

[[component]]
role = "coil"
kind = "diode"
name = "Strange part"
terminals = [
  { name = "anode", label = "", connection = "stud M4" },
  { name = "cathode", label = "", connection = "stud M4" },
]
ratings = { rated_current = "5 A" }
"""


class TestVehicle:
    def test_supply_cylinders_and_what_is_fitted(self, garage):
        traits = traits_of(garage.load())
        assert traits["voltage"].words == "12 V"
        assert traits["ground"].words == "negative ground"
        assert traits["cylinders"].ids == ("4",)
        assert traits["indicator"].ids == ("charge_lamp",)
        assert traits["fuses"].ids == ("fuse_box",)
        assert traits["connector"].ids == ("connector",)
        assert traits["battery"].ids == ("engine_bay",)
        assert traits["starting"].ids == (NONE,)
        assert traits["slots"].ids == ("charging", "ignition")

    def test_words_for_engine_and_body_come_from_the_profile(self, garage):
        assert seen(garage, "engine").words == ""
        garage.spoil(
            "vehicle", 'size_system = "SAE"', 'size_system = "SAE"\nengine = "V8"\nbody = "van"'
        )
        traits = traits_of(garage.load())
        assert traits["engine"].words == "V8"
        assert traits["body"].words == "van"
        assert traits["cylinders"].ids == ("8",)

    @every_case(
        ("words", "number"),
        [
            ("straight six", 6),
            ("four-cylinder, 2 litres", 4),
            ("flat 4", 4),
            ("V12", 12),
            ("2.2 litre diesel", None),
            ("", None),
            ("rear four-cylinder, 4 cylinders", 4),
        ],
    )
    def test_cylinders_in_words(self, words, number):
        assert cylinders_in(words) == number

    @every_case("name", ["van_original_ballast", "van_upgraded", "tractor_original"])
    def test_shipped_configuration_has_a_known_sort_of_everything(self, load, name):
        traits = traits_of(load(name))
        for subject in ("charging", "ignition", "starting", "indicator", "battery"):
            assert not {NONE, OTHER} & set(traits[subject].ids), subject

    def test_shipped_pair_differs_in_what_the_upgrade_is_about(self, load):
        before, after = (traits_of(load(n)) for n in ("van_original_ballast", "van_upgraded"))
        differing = {n for n in before if before[n].ids != after[n].ids}
        assert {"charging", "ignition"} <= differing
        assert not differing & {"voltage", "ground", "cylinders", "indicator", "battery"}

    def test_facts_do_not_depend_on_names(self, garage):
        before = set(trait_facts(garage.load()))
        renamed = {
            "ignition-feed": "blue",
            "Little van": "Thing",
            'role = "key"': 'role = "lock"',
            '"key.': '"lock.',
            "Key switch": "Lock",
        }
        for name in ("vehicle", "ignition"):
            text = garage.text(name)
            for old, new in renamed.items():
                text = text.replace(old, new)
            assert text != garage.text(name)
            garage.write(name, text)
        assert set(trait_facts(garage.load())) == before


class TestTable:
    def test_ids_of_a_subject_are_unique_and_told_apart(self):
        for subject in subjects().values():
            ids = [sort.id for sort in subject.varieties]
            words = [sort.words for sort in subject.varieties]
            assert len(set(ids)) == len(ids)
            assert len(set(words)) == len(words)
            assert all(sort.see for sort in subject.varieties)

    def test_plain_conditions_name_kinds_that_exist(self):
        for subject in subjects().values():
            for sort in subject.varieties:
                for pattern in (one for row in sort.has for one in row):
                    kind = pattern.split(" ")[0].split(".")[0]
                    if "*" not in pattern and ":" not in pattern and not kind.isdigit():
                        assert kind in kinds(), pattern


class TestMatching:
    @every_case(
        ("text", "words", "found"),
        [
            ("points with ballast resistor", "BALLAST points", True),
            ("points with ballast resistor", "magneto", False),
            ("16 v", "6", False),
            ("6 v", "6", True),
            ("v8, 8 cylinders", "v8", True),
            ("pulled", "pull", True),
        ],
    )
    def test_words(self, text, words, found):
        assert has_words(text, words) is found

    def test_whole_words_only_if_asked(self):
        assert not has_words("pulled in", "pull", whole=True)

    @every_case("text", ["6", "6 V", "6V", "6.0 volts"])
    def test_a_voltage_is_read_however_it_is_written(self, text):
        assert checked_filter("voltage", text, ()) == "6"

    @every_case(
        ("name", "text", "allowed"),
        [
            ("voltage", "high", "12"),
            ("ground", "left", "negative, positive"),
            ("cylinders", "lots", "4 cylinders"),
        ],
    )
    def test_a_wrong_value_names_what_is_allowed(self, name, text, allowed):
        seen_values = {"voltage": ("12 V",), "cylinders": ("4 cylinders",)}.get(name, ())
        with pytest.raises(BadFilter, match=allowed):
            checked_filter(name, text, seen_values)

    def test_points_are_found_only_where_there_are_points(self):
        ignition = subjects()["ignition"]
        with_points = {
            s.id for s in ignition.varieties if "points" in trait_for(ignition, (s,)).search
        }
        assert with_points == {s.id for s in ignition.varieties if "points" in s.id}

    def test_filter_on_a_value_is_exact(self, garage):
        trait = seen(garage, "voltage")
        assert is_wanted(trait, "12")
        assert not is_wanted(trait, "2")

    def test_all_as_wanted_gets_all_points_and_family_a_share(self, garage):
        traits = traits_of(garage.load())
        whole = match_of({"voltage": ("12",), "charging": traits["charging"].ids}, traits)
        assert whole.points == whole.possible
        assert not whole.differing
        near = match_of({"charging": ("alternator_one_wire",)}, traits)
        assert 0 < near.points < near.possible
        assert near.differing[0].found == traits["charging"].words
        far = match_of({"charging": ("dynamo_control_box",)}, traits)
        assert far.points == 0

    def test_what_is_not_known_neither_counts_for_nor_against(self, garage):
        match = match_of({}, traits_of(garage.load()))
        assert (match.points, match.possible, match.ratio) == (0, 0, 1)

    def test_one_of_several_that_may_be_meant_is_as_wanted(self, garage):
        traits = traits_of(garage.load())
        match = match_of({"ignition": ("points_ballast", "points_full_voltage")}, traits)
        assert match.points == match.possible
