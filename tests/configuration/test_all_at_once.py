"""Faults of every kind, over all files, are told in one go; none is told twice or brings others."""

import re

import pytest


class TestEverythingAtOnce:
    def test_faults_of_all_stages_and_files_come_in_file_and_line_order(self, garage):
        garage.spoil("charging", 'rated_output = "45 A"', '«rated_output = "45"')  # a value
        garage.spoil("charging", 'to = "battery.live"', '«to = "battery.life"')  # a misfit
        garage.spoil("configuration", '"As built."', '"As built."\n«colour = "red"')  # a key
        garage.spoil("ignition", 'id = "points-lead"', '«id = "key-feed"')  # taken
        garage.spoil("ignition", 'size = "14 SAE"', '«size = "14"')
        garage.spoil("vehicle", "walk = 2", "walk = 2\n«walk = 4")  # TOML
        garage.spoil("vehicle", 'coil = "block"', '«coil = "blok"')  # a place
        garage.spoil("vehicle", 'kind = "ground_point"', '«kind = "ground_pint"')
        garage.spoil("vehicle", 'to = "key.battery"', '«to = "kex.battery"')
        garage.add("configuration", '[changes]\nremove_wires = [«"lamp-fed"]')  # a change
        problems = garage.problems()
        garage.assert_at_marks(problems)
        assert list(problems) == sorted(set(problems))

    def test_file_that_cannot_be_read_does_not_hide_the_others(self, garage):
        garage.write("charging", "«[system")
        garage.spoil("ignition", 'colour = "BU"', '«colour = "PINK"')
        garage.spoil("vehicle", 'place = "tray"', '«place = "trey"')
        problems = garage.problems()
        assert [problem.subject for problem in problems] == ["", "ignition-feed colour", "battery"]

    def test_base_and_what_is_based_on_it_are_told_together(self, garage):
        garage.spoil("configuration", "[systems]", "«owner = 3\n[systems]")
        garage.write(
            "mine",
            '[configuration]\ntitle = "m"\nsummary = "s"\nbased_on = "configuration.toml"\n'
            '[as_found]\nchange_wires = [ { id = "key-feed", «size = "9" } ]\n',
        )
        garage.spoil("vehicle", 'place = "tray"', '«place = "trey"')
        garage.assert_at_marks(garage.problems("mine"))

    def test_faults_of_tables_in_tables_are_told_together(self, garage):
        garage.add("vehicle", "[states.loaded]\n«key = 3\n[states.cranking]\nkey = [ ]")
        problems = garage.problems()
        assert [problem.subject for problem in problems] == [
            "states loaded key",
            "states cranking key",
        ]

    def test_same_file_for_two_slots_is_told_once(self, garage):
        garage.spoil("ignition", 'colour = "BU"', 'colour = "PINK"')
        garage.spoil("configuration", '"charging.toml"', '"ignition.toml"')
        founds = [problem.found for problem in garage.problems()]
        assert founds.count('"PINK"') == 1

    def test_thousands_of_faults_are_told(self, garage):
        entries = "  { },\n" * 1000
        garage.add("configuration", f"[changes]\nadd_wires = [\n{entries}]")
        assert len(garage.problems()) == 7 * 1000


VALUE = re.compile(r'(\w+) = ("[^"\n]*"|\d+)(?=[\s,}])')


class TestNothingFollowsFromAFault:
    """One spoilt value is one problem, whatever depends on it."""

    @pytest.mark.parametrize("spoilt", ["0.5", '"?? "'])
    @pytest.mark.parametrize("name", ["vehicle", "ignition", "charging", "configuration"])
    def test_any_single_value(self, garage, name, spoilt):
        sound = garage.text(name)
        free_text = ("title", "summary", "label", "loom", "name")
        for match in VALUE.finditer(sound):
            if spoilt != "0.5" and match[1] in free_text:
                continue
            before, after = sound[: match.start(1)], sound[match.end() :]
            garage.write(name, f"{before}«{match[1]} = {spoilt}{after}")
            garage.only_problem()
            garage.forget_marks()

    def one(self, garage, file, old, new):
        garage.spoil(file, old, new)
        return garage.only_problem()

    def test_key_switch_with_a_bad_name(self, garage):
        self.one(garage, "vehicle", 'name = "Key switch"', "«name = 3")

    def test_part_whose_role_cannot_be_read(self, garage):
        self.one(garage, "vehicle", 'role = "key"', "«role = 3")

    def test_part_whose_role_is_misspelt_as_a_key(self, garage):
        self.one(garage, "vehicle", 'role = "key"', '«roll = "key"')

    def test_parts_under_a_misspelt_header(self, garage):
        text = garage.text("ignition").replace("[[component]]", "[[compnent]]")
        garage.write("ignition", text)
        (problem,) = garage.problems()
        assert problem.found == "unknown key 'compnent'"

    def test_place_that_parts_sit_at(self, garage):
        self.one(garage, "vehicle", 'id = "dash"', '«id = "behind dash"')

    def test_route_that_wires_take(self, garage):
        self.one(garage, "vehicle", 'length = "0.4 m"', '«length = "0.4"')

    def test_mounting(self, garage):
        self.one(garage, "vehicle", 'coil = "block"', "«coil = []")

    def test_slots(self, garage):
        self.one(garage, "vehicle", 'slots = ["ignition", "charging"]', "«slots = 2")

    def test_polarity(self, garage):
        self.one(garage, "vehicle", 'ground = "negative"', '«ground = "minus"')

    def test_slot_of_a_system(self, garage):
        self.one(garage, "ignition", 'slot = "ignition"', "«slot = 3")

    def test_system_that_does_not_exist(self, garage):
        old, new = 'ignition = "ignition.toml"', '«ignition = "ignitoin.toml"'
        self.one(garage, "configuration", old, new)

    def test_system_that_is_not_toml(self, garage):
        text = garage.text("ignition")
        garage.write("ignition", text.replace('slot = "ignition"', "slot = «ignition"))
        garage.only_problem()

    def test_vehicle_that_does_not_exist(self, garage):
        old, new = 'vehicle = "vehicle.toml"', '«vehicle = "vehicel.toml"'
        self.one(garage, "configuration", old, new)

    def test_unreadable_change_of_a_wire_that_needed_it(self, garage):
        garage.add(
            "configuration",
            '[changes]\nremove_components = ["charge_lamp"]\nremove_wires = ["charge-lamp"]\n'
            'change_wires = [ { id = "lamp-feed", to = "fuses.supply", «size = "9" } ]',
        )
        garage.only_problem()

    def test_unreadable_part_that_is_added_and_wired(self, garage):
        garage.add(
            "configuration",
            '[changes]\nadd_component = [ { role = "joint", «kind = "splize", name = "S", '
            'place = "dash" } ]\nchange_wires = [ { id = "lamp-feed", to = "joint.joint" } ]',
        )
        garage.only_problem()

    def test_wrong_terminal_of_a_faulty_part_is_still_told(self, garage):
        garage.spoil("ignition", 'kind = "coil"', '«kind = "coyl"')
        garage.spoil("ignition", 'to = "coil.positive"', '«to = "coil.plus"')
        problems = garage.problems()
        garage.assert_at_marks(problems)
        assert problems[1].found == "no terminal 'plus' on coil"
