"""What comes out of sound files: changes in their order, polarity, lengths, fingerprint."""

import random
import re

import pytest
from building import Garage
from every_case import every_case
from hypothesis import given, settings
from hypothesis import strategies as st

from upgrade_planner.configuration import loading
from upgrade_planner.configuration.files.shipped import shipped_profiles
from upgrade_planner.configuration.loading import load_configuration
from upgrade_planner.configuration.model import Conductor, TerminalRef


def based_on_configuration(garage, text, name="mine"):
    header = '[configuration]\ntitle = "m"\nsummary = "s"\nbased_on = "configuration.toml"\n'
    garage.write(name, header + text)
    return garage.load(name)


class TestShippedProfiles:
    @every_case("name", shipped_profiles("configuration"))
    def test_configuration_is_sound(self, name):
        assert load_configuration(name).wires


class TestPolarity:
    @every_case(("ground", "live"), [("negative", "positive"), ("positive", "negative")])
    def test_live_and_grounded_follow_the_ground(self, garage, ground, live):
        if ground == "positive":
            garage.spoil("vehicle", 'ground = "negative"', 'ground = "positive"')
        wires = garage.load().wire_by_id
        assert wires["key-feed"].start == TerminalRef("battery", live)
        assert wires["ground-cable"].start == TerminalRef("battery", ground)

    def test_other_parts_may_have_a_terminal_called_live(self, garage):
        garage.spoil("vehicle", '{ name = "wiper", label', '{ name = "live", label')
        garage.spoil("vehicle", 'to = "wiper", rating', 'to = "live", rating')
        garage.spoil("vehicle", 'from = "key.ignition"', 'from = "fuses.live"')
        assert garage.load().wire_by_id["lamp-feed"].start == TerminalRef("fuses", "live")


class TestLengths:
    def test_length_follows_from_the_routes_with_slack(self, garage):
        run = garage.load().runs["ignition-feed"]
        assert run.length_m == pytest.approx(0.4 + 0.7 + 0.3)
        assert not run.measured

    def test_measured_length_wins(self, garage):
        old, new = 'colour = "BU"', 'colour = "BU", length = "2.2 m"'
        run = garage.spoil("ignition", old, new).load().runs["ignition-feed"]
        assert run.length_m == 2.2
        assert run.measured


class TestOptionalWires:
    def test_wire_is_there_only_with_the_part_it_is_for(self, garage):
        assert "tachometer" not in garage.load().wire_by_id
        garage.add(
            "vehicle",
            '[[component]]\nrole = "tachometer"\nkind = "tachometer"\nname = "T"\nplace = "dash"\n'
            'terminals = [ { name = "signal", label = "1", connection = "stud M4" } ]',
        )
        assert "tachometer" in garage.load().wire_by_id


class TestChanges:
    def test_parts_and_wires_that_are_not_named_stay_as_they_are(self, garage):
        before = garage.load()
        after = based_on_configuration(
            garage, '[as_found]\nchange_wires = [ { id = "key-feed", size = "12 SAE" } ]'
        )
        assert after.components == before.components
        same = [wire for wire in before.wires if wire.id != "key-feed"]
        assert [wire for wire in after.wires if wire.id != "key-feed"] == same
        assert after.wire_by_id["key-feed"].size.designation == "12"
        assert after.wire_by_id["key-feed"].as_found

    def test_place_and_terminals_as_found(self, garage):
        found = based_on_configuration(
            garage,
            '[[as_found.change_component]]\nrole = "charge_lamp"\nplace = "bulkhead"\n'
            'note = "Moved."\nterminals = [\n'
            '  { name = "supply", label = "A", connection = "screw M4" },\n'
            '  { name = "return", label = "B", connection = "screw M4" },\n]',
        )
        lamp = found.component("charge_lamp")
        assert (lamp.place, lamp.note, lamp.as_found) == ("bulkhead", "Moved.", True)
        assert [terminal.label for terminal in lamp.terminals] == ["A", "B"]
        assert lamp.ratings == {"power": 2, "rated_voltage": 12}
        assert found.runs["lamp-feed"].length_m == pytest.approx(0.4 + 0.3)

    def test_intended_changes_are_not_marked_as_found(self, garage):
        garage.add(
            "configuration",
            '[changes]\nchange_wires = [ { id = "key-feed", colour = "RD/WH" } ]\n'
            'change_component = [ { role = "coil", name = "Sports coil" } ]\n'
            'add_wires = [ { id = "new", circuit = "ground", from = "ground.stud", '
            'to = "charge_lamp.return", size = "14 SAE", colour = "BK", insulation = "GPT" } ]',
        )
        loaded = garage.load()
        assert not any(wire.as_found for wire in loaded.wires)
        assert not any(component.as_found for component in loaded.components)
        assert loaded.component("coil").name == "Sports coil"

    def test_added_parts_and_wires_are_marked_as_found(self, garage):
        found = based_on_configuration(
            garage,
            '[as_found]\nnote = "Cut."\nadd_component = [ { role = "joint", kind = "splice", '
            'name = "Twist", place = "dash", terminals = [ { name = "joint", label = "", '
            'connection = "splice" } ] } ]\nadd_wires = [ { id = "stray", circuit = "lamps", '
            'from = "key.ignition", to = "joint.joint", size = "18 SAE", colour = "BU", '
            'insulation = "PVC" } ]',
        )
        assert found.as_found_note == "Cut."
        assert (found.component("joint").as_found, found.component("joint").slot) == (
            True,
            "as found",
        )
        assert found.wire_by_id["stray"].as_found

    def test_empty_loom_takes_a_wire_out_of_its_loom(self, garage):
        garage.spoil("ignition", 'colour = "BU"', 'colour = "BU", route = "engine loom"')
        found = based_on_configuration(
            garage, '[as_found]\nchange_wires = [ { id = "ignition-feed", route = "" } ]'
        )
        assert garage.load().wire_by_id["ignition-feed"].loom == "engine loom"
        assert found.wire_by_id["ignition-feed"].loom == ""

    def test_resistance_wire_made_plain_loses_its_ohms(self, garage):
        resistance = 'colour = "BU", conductor = "resistance wire", resistance = "1.35 ohm"'
        garage.spoil("ignition", 'colour = "BU"', resistance)
        found = based_on_configuration(
            garage, '[as_found]\nchange_wires = [ { id = "ignition-feed", conductor = "copper" } ]'
        )
        assert garage.load().wire_by_id["ignition-feed"].resistance_ohm == 1.35
        assert found.wire_by_id["ignition-feed"].resistance_ohm is None
        assert found.wire_by_id["ignition-feed"].conductor is Conductor.COPPER


class TestChain:
    @pytest.fixture
    def chain(self, garage):
        """Three configurations, each based on the one before."""
        change = '[changes]\nchange_wires = [ {{ id = "key-feed", {} }} ]\n'
        garage.add("configuration", change.format('size = "8 SAE", colour = "RD/BK"'))
        coil = '[overrides.coil]\nprimary_resistance = "2 ohm"'
        based_on_configuration(garage, change.format('size = "6 SAE"') + coil, "second")
        garage.write(
            "third",
            '[configuration]\ntitle = "Third"\nsummary = "s"\nbased_on = "second.toml"\n'
            'owner = "somebody"\n'
            '[as_found]\nremove_wires = ["lamp-feed"]\nnote = "Lamp cut off."\n'
            'change_wires = [ { id = "key-feed", insulation = "PVC" } ]\n',
        )
        return garage

    def test_changes_of_the_base_come_first(self, chain):
        wire = chain.load("third").wire_by_id["key-feed"]
        assert (wire.size.designation, wire.colour.code, wire.insulation.name) == (
            "6",
            "RD/BK",
            "PVC",
        )

    def test_later_links_leave_the_base_alone(self, chain):
        base = chain.load()
        assert base.wire_by_id["key-feed"].size.designation == "8"
        assert base.component("coil").ratings["primary_resistance"] == 3
        assert chain.load("second").component("coil").ratings["primary_resistance"] == 2

    def test_names_come_from_the_last_link_vehicle_from_the_first(self, chain):
        third = chain.load("third")
        assert (third.name, third.title, third.vehicle.owner) == ("third", "Third", "somebody")
        assert third.vehicle.title == "Little van"
        assert third.as_found_note == "Lamp cut off."
        assert "lamp-feed" not in third.wire_by_id

    def test_system_may_be_chosen_anew(self, chain):
        other = chain.text("charging").replace('rated_output = "45 A"', 'rated_output = "63 A"')
        chain.write("other", other)
        chain.spoil("third", "[as_found]", '[systems]\ncharging = "other.toml"\n[as_found]')
        third = chain.load("third")
        assert third.systems == {"charging": "other", "ignition": "ignition"}
        assert third.component("alternator").ratings["rated_output"] == 63


def in_other_units(text):
    """The same text with every length in another unit."""
    return re.sub(r'length = "([\d.]+) m"', lambda m: f'length = "{float(m[1]) * 1000:g} mm"', text)


def shuffled(text, rng):
    """The same file with its tables and the lines of its wires in another order."""
    head, *tables = re.split(r"(?m)^(?=\[(?!component\.))", text)
    rng.shuffle(tables)
    text = head + "\n".join(tables)

    def wires(match):
        lines = match[1].splitlines()
        rng.shuffle(lines)
        return "wires = [\n" + "\n".join(lines) + "\n]"

    return re.sub(r"(?s)wires = \[\n(.*?)\n\]", wires, text)


class TestReadOnce:
    """What was read is known again by what a file says."""

    def test_a_file_that_is_written_anew_at_once_is_read_anew(self, garage):
        assert garage.load().title == "Little van as built"
        garage.spoil("configuration", "Little van as built", "Little van as found")
        assert garage.load().title == "Little van as found"

    def test_a_file_that_stays_is_parsed_once(self, garage, monkeypatch):
        plain = garage.load()
        parsed, read = [], loading.read_what_can_be_read
        monkeypatch.setattr(
            loading, "read_what_can_be_read", lambda path: parsed.append(path.stem) or read(path)
        )
        garage.spoil("charging", '"45 A"', '"55 A"')
        assert garage.load().digest != plain.digest
        assert parsed == ["charging"]


class TestMadeOnce:
    """What stays the same is one and the same, so that what is kept of it serves again."""

    def test_parts_and_wires_that_stay_are_those_of_the_base(self, garage):
        base = garage.load()
        change = '[changes]\nchange_wires = [{ id = "key-feed", colour = "YE" }]\n'
        mine = based_on_configuration(garage, change)
        changed = [wire.id for wire in mine.wires if wire is not base.wire_by_id[wire.id]]
        assert changed == ["key-feed"]
        assert all(part is base.component(part.role) for part in mine.components)

    def test_same_file_in_another_vehicle_makes_other_parts(self, garage):
        before = garage.load().component("coil")
        garage.spoil("vehicle", 'coil = "block"', 'coil = "dash"')
        assert (before.place, garage.load().component("coil").place) == ("block", "dash")


class TestDigest:
    @every_case("length", ["1.4 m", "1400 mm", "140 cm", "1.40 m", "1.4e3 mm"])
    def test_unit_of_a_length_is_no_matter(self, garage, length):
        garage.spoil("ignition", 'colour = "BU"', 'colour = "BU", length = "1400 mm"')
        plain = garage.load().digest
        garage.spoil("ignition", 'length = "1400 mm"', f'length = "{length}"')
        assert garage.load().digest == plain

    @settings(max_examples=15)
    @given(seed=st.integers(0, 10_000))
    def test_order_and_units_are_no_matter(self, tmp_path_factory, seed):
        garage = Garage(tmp_path_factory.mktemp("shuffled"))
        plain = garage.load()
        rng = random.Random(seed)
        for name in ("vehicle", "ignition", "charging"):
            text = shuffled(in_other_units(garage.text(name)), rng)
            assert text != garage.text(name)
            garage.write(name, text)
        again = garage.load()
        assert again.digest == plain.digest
        assert again.runs == plain.runs

    @every_case(
        ("file", "old", "new"),
        [
            ("vehicle", '\nvoltage = "12 V"', '\nvoltage = "6 V"'),
            ("vehicle", 'ground = "negative"', 'ground = "positive"'),
            ("vehicle", 'space = "cabin"\nmetal = "body"', 'space = "cabin"\nmetal = ""'),
            ("vehicle", 'length = "0.8 m"', 'length = "0.9 m"'),
            ("vehicle", 'ambient = "50 °C"', 'ambient = "55 °C"'),
            ("vehicle", 'rating = "10 A"', 'rating = "15 A"'),
            ("ignition", 'size = "14 SAE"', 'size = "14 AWG"'),
            ("ignition", 'colour = "BU"', 'colour = "BU/BK"'),
            ("ignition", 'primary_resistance = "3 ohm"', 'primary_resistance = "3.1 ohm"'),
        ],
    )
    def test_what_changes_the_vehicle_changes_the_digest(self, garage, file, old, new):
        plain = garage.load().digest
        assert garage.spoil(file, old, new).load().digest != plain

    def test_name_and_place_of_the_files_are_no_matter(self, garage):
        plain = garage.load().digest
        garage.path("configuration").rename(garage.folder / "other.toml")
        assert garage.load("other").digest == plain
