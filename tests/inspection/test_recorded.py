"""What a filled form says: changes, doubts, findings; contradictions and what cannot be read."""

import pytest
from attrs import evolve
from every_case import every_case

from upgrade_planner.configuration.tables.spreadsheet import Row
from upgrade_planner.configuration.values.quantities import Dimension
from upgrade_planner.errors import ConfigurationError
from upgrade_planner.inspection.form_lines import COLUMNS
from upgrade_planner.inspection.recorded import recorded
from upgrade_planner.inspection.walk import inspection

NUMBERS = {name: number for number, name in enumerate(COLUMNS, 1)}


@pytest.fixture(scope="module")
def van(load):
    return inspection(load("van_original_resistance"))


def row(line, name, number=2, /, **cells):
    return Row("form.csv", number, {"line": line, "id": name, **cells}, NUMBERS)


def rows(*lines):
    return [row(line, name, number, **cells) for number, (line, name, cells) in enumerate(lines, 2)]


def says(van, line, name, **cells):
    return recorded([row(line, name, **cells)], van)


def told(van, *lines, **options):
    """The faults: row, column name, what was found."""
    with pytest.raises(ConfigurationError) as caught:
        recorded(rows(*lines), van, **options)
    return [(p.line, COLUMNS[p.column - 1], p.found) for p in caught.value.problems]


def only(van, line, name, **cells):
    ((_, column, found),) = told(van, (line, name, cells))
    return column, found


STRANGER = {
    "from_found": "ignition_switch.run",
    "to_found": "coil.positive",
    "size_found": "18 SAE",
    "colour_found": "BU",
    "insulation_found": "PVC",
    "circuit_found": "ignition feed",
    "length_measured": "2.4 m",
}
DOUBTED = {"length_measured", "insulation_found"}
"""What a stranger may lack: it is taken from elsewhere, and doubted."""


class TestWires:
    @every_case("word", ["yes", "YES", "x", "X", "✓", "Y", "1", "on"])
    def test_as_printed_changes_nothing(self, van, word):
        result = says(van, "wire", "horn", present=word)
        assert result.changes == 0
        assert "horn" not in result.not_looked_at
        assert "horn-feed" in result.not_looked_at

    def test_empty_line_is_not_looked_at(self, van):
        result = recorded([row("wire", "horn")], van)
        assert set(result.not_looked_at) == set(van.configuration.wire_by_id)
        assert set(result.parts_not_looked_at) == set(van.configuration.component_by_role)

    @every_case("word", ["no", "absent", "0", "N"])
    def test_absent_wire_is_removed(self, van, word):
        assert says(van, "wire", "engine-strap", present=word).remove_wires == ("engine-strap",)

    def test_what_was_found_stands_in_the_words_of_a_profile(self, van):
        result = says(
            van,
            "wire",
            "horn",
            present="yes",
            size_found="1.5 mm2",
            colour_found="rd/wh",
            length_measured="4 ft 7 in",
            condition="cracked; Stiff",
            note="taped",
        )
        assert result.change_wires == (
            {
                "id": "horn",
                "size": "1.5 mm²",
                "colour": "RD/WH",
                "insulation": "GPT",
                "length": "4 ft 7 in",
                "condition": ("stiff", "cracked"),
                "note": "taped",
            },
        )

    def test_the_same_values_as_printed_are_no_change(self, van):
        result = says(
            van,
            "wire",
            "horn",
            present="x",
            size_found="16 sae",
            colour_found="gy/bk",
            from_found="horn button horn",
            condition="good",
        )
        assert result.changes == 0

    def test_joined_elsewhere_by_label_or_function(self, van):
        for written in ("coil 15a", "coil.positive", "Coil 15a (positive)", "coil:15A"):
            result = says(
                van,
                "wire",
                "tachometer",
                present="elsewhere",
                to_found=written,
                from_found="coil.negative",
            )
            assert "coil.positive" in result.change_wires[0].values()

    def test_another_place_drops_the_loom_and_says_so(self, van):
        result = says(van, "wire", "main-feed", present="elsewhere", to_found="fuse_box.horn")
        assert result.change_wires[0]["route"] == ""
        assert "main feed" in result.doubts[0]

    def test_automatic_size_that_was_found_is_written_down(self, van):
        one = [row("wire", "horn", present="yes", size_found="16 SAE")]
        assert recorded(one, van, automatic=frozenset({"horn"})).change_wires[0]["size"] == "16 SAE"
        assert recorded(one, van).changes == 0

    def test_link_replaced_by_plain_wire(self, van):
        result = says(
            van,
            "wire",
            "link",
            present="yes",
            conductor_found="copper",
            size_found="10 SAE",
            insulation_found="PVC",
        )
        assert result.change_wires == (
            {"id": "link", "size": "10 SAE", "insulation": "PVC", "conductor": "copper"},
        )
        assert result.doubts == ()

    def test_what_is_not_said_of_a_new_conductor_is_a_doubt(self, van):
        result = says(van, "wire", "link", present="yes", conductor_found="copper")
        assert len(result.doubts) == 2
        assert "LINK still stands" in result.doubts[0]

    def test_burnt_is_a_doubt(self, van):
        (doubt,) = says(van, "wire", "horn", present="yes", condition="burnt").doubts
        assert doubt.startswith("wire horn: burnt; find the cause")

    def test_two_rows_that_agree_are_one(self, van):
        result = recorded(
            rows(("wire", "horn", {"present": "x"}), ("wire", "horn", {"note": "loose clip"})), van
        )
        assert result.change_wires == ({"id": "horn", "note": "loose clip"},)


class TestContradictions:
    @every_case(
        ("cells", "column", "found"),
        [
            (
                {"present": "no", "colour_found": "RD"},
                "colour_found",
                "'RD' on a wire that is absent ('no')",
            ),
            ({"present": "elsewhere"}, "present", "'elsewhere' without saying where"),
            (
                {"present": "elsewhere", "to_found": "horn.supply"},
                "present",
                "'elsewhere' with the ends of the profile",
            ),
            (
                {"present": "yes", "to_found": "coil.positive"},
                "to_found",
                "another end, 'coil.positive', of a wire that is where it should be ('yes')",
            ),
            ({"present": "maybe"}, "present", "'maybe'"),
            ({"present": "yes, no"}, "present", "'yes, no'"),
            (
                {"present": "yes", "length_measured": "1.4"},
                "length_measured",
                '"1.4" without a unit',
            ),
            (
                {"present": "yes", "length_measured": "1.4 furlong"},
                "length_measured",
                '"1.4 furlong" with an unknown unit',
            ),
            ({"present": "yes", "colour_found": "RD/RD"}, "colour_found", '"RD/RD"'),
            ({"present": "yes", "condition": "corodded"}, "condition", "'corodded'"),
            (
                {"present": "yes", "condition": "good, burnt"},
                "condition",
                "'good' together with 'burnt'",
            ),
            ({"present": "yes", "measured": "0.1"}, "measured", '"0.1" without a unit'),
            ({"present": "yes", "measured": "-1 ohm"}, "measured", '"-1 ohm"'),
            (
                {"present": "yes", "measured": "0.1 V"},
                "measured",
                "a voltage, '0.1 V', on a wire that none is computed for",
            ),
            ({"present": "yes", "use_measured": "yes"}, "use_measured", "yes, but it is copper"),
            (
                {"present": "yes", "conductor_found": "resistance wire"},
                "conductor_found",
                "a resistance wire without its ohms",
            ),
            ({"present": "yes", "size": "14 SAE"}, "size", "'14 SAE' in the printed column"),
            (
                {"present": "elsewhere", "to_found": "horn_button.out"},
                "to_found",
                "both ends on one terminal",
            ),
            (
                {"present": "elsewhere", "to_found": "distributor.case"},
                "to_found",
                "no terminal 'distributor.case'",
            ),
        ],
    )
    def test_is_a_fault_at_its_column(self, van, cells, column, found):
        assert only(van, "wire", "horn", **cells) == (column, found)

    def test_what_is_written_to_a_wire_says_that_it_is_there(self, van):
        result = says(van, "wire", "horn", size_found="16 AWG")
        assert result.change_wires[0]["size"] == "16 AWG"
        assert "horn" not in result.not_looked_at

    @every_case("text", ["16", "16 ga", "#16"])
    def test_a_size_without_its_system_is_in_the_sizes_of_the_vehicle(self, van, text):
        result = says(van, "wire", "horn", present="yes", size_found=text)
        assert not result.change_wires or result.change_wires[0]["size"] == "16 SAE"
        assert "read as 16 SAE" in result.doubts[0]

    def test_another_word_for_a_state_stands_as_a_note_and_is_told(self, van):
        result = says(van, "wire", "horn", present="yes", condition="smells of fish")
        assert "State: smells of fish." in result.change_wires[0]["note"]
        assert "smells of fish" in result.doubts[0]

    @every_case("text", ["?", "not looked at"])
    def test_a_question_mark_means_that_nobody_looked(self, van, text):
        result = says(van, "wire", "horn", present=text)
        assert "horn" in result.not_looked_at

    def test_a_terminal_may_be_begun(self, van):
        result = says(van, "wire", "horn", present="elsewhere", to_found="coil pos")
        assert result.change_wires[0]["to"] == "coil.positive"

    def test_a_rating_that_is_marked_on_a_part_is_taken(self, van):
        result = says(van, "part", "alternator", present="x", marked="63 A 12 V")
        assert result.change_component[0]["ratings"] == {"rated_output": "63 A"}
        assert "rated output set to 63 A as marked" in result.settings[0]

    def test_a_wire_that_hangs_loose_is_absent_and_told(self, van):
        result = says(van, "wire", "horn", present="elsewhere", to_found="taped back")
        assert result.remove_wires == ("horn",)
        assert "hangs loose (taped back)" in result.doubts[0]

    def test_a_strange_wire_that_hangs_loose_is_told(self, van):
        result = says(van, "stranger", "stranger-1", from_found="coil positive", to_found="cut off")
        assert result.add_wires == ()
        assert "hangs loose (coil positive to cut off)" in result.doubts[0]

    def test_two_rows_that_contradict_each_other(self, van):
        lines = ("wire", "horn", {"present": "x"}), ("wire", "horn", {"present": "no"})
        assert told(van, *lines) == [(3, "present", "'no', but 'x' in row 2")]

    def test_unknown_wire_part_and_sort(self, van):
        found = told(van, ("wire", "hron", {}), ("part", "coyl", {}), ("wir", "horn", {}))
        assert found == [
            (2, "id", "no wire 'hron' in van_original_resistance"),
            (3, "id", "no part 'coyl' in van_original_resistance"),
            (4, "line", "the sort of line 'wir'"),
        ]

    def test_all_faults_at_once(self, van):
        lines = [("wire", name, {"present": "perhaps"}) for name in van.configuration.wire_by_id]
        assert len(told(van, *lines)) == len(lines)

    def test_nearest_terminals_are_suggested(self, van):
        with pytest.raises(ConfigurationError) as caught:
            says(van, "wire", "horn", present="elsewhere", to_found="coyl.plus")
        assert "coil positive (15a), coil negative (1)" in caught.value.problems[0].expected

    def test_a_part_without_its_terminal_is_asked_back_with_all_of_them(self, van):
        with pytest.raises(ConfigurationError) as caught:
            says(van, "wire", "horn", present="elsewhere", to_found="coil")
        assert caught.value.problems[0].expected == "one of: coil positive (15a), coil negative (1)"

    def test_label_that_stands_twice_on_a_part_is_not_guessed_at(self, load):
        plain = load("van_original_resistance")
        parts = tuple(
            evolve(part, terminals=tuple(evolve(t, label="1") for t in part.terminals))
            if part.role == "coil"
            else part
            for part in plain.components
        )
        van = inspection(evolve(plain, components=parts))
        column, found = only(van, "wire", "horn", present="elsewhere", to_found="coil 1")
        assert (column, found) == ("to_found", "'coil 1', which may be several")

    def test_absent_part_with_wires_still_on_it(self, van):
        column, found = only(van, "part", "horn", present="no")
        assert (column, found) == ("present", "'no', but these wires are joined to it: horn")

    def test_absent_part_without_wires_is_removed(self, van):
        lines = rows(("part", "horn", {"present": "no"}), ("wire", "horn", {"present": "no"}))
        result = recorded(lines, van)
        assert (result.remove_components, result.remove_wires) == (("horn",), ("horn",))

    def test_form_of_another_vehicle_is_one_fault(self, van, load):
        lines = [
            ("wire", wire.id, {"size": "70 mm²", "form": "aaaa bbbb"})
            for wire in van.configuration.wires
        ]
        ((_, column, found),) = told(van, *lines, form="1111 2222")
        assert column == "form"
        assert "another configuration (code aaaa bbbb)" in found

    @every_case("name", ["horn", "no-such-wire"])
    def test_form_that_says_it_is_of_another_vehicle_is_refused_with_one_line(self, van, name):
        line = ("wire", name, {"present": "x", "form": "aaaa bbbb of row_tractor"})
        ((_, column, found),) = told(van, line, form="1111 2222 of carrier_van", strict=False)
        assert (column, found) == ("form", "a form printed for another vehicle, row_tractor")

    def test_form_of_this_vehicle_is_taken_as_far_as_it_fits(self, van):
        code = {"form": "aaaa bbbb of carrier_van"}
        lines = rows(
            ("wire", "renamed", {"present": "no", **code}),
            ("wire", "horn", {"present": "no", **code}),
        )
        result = recorded(lines, van, form="1111 2222 of carrier_van", strict=False)
        assert result.remove_wires == ("horn",)
        assert len(result.left) == 1

    def test_other_code_alone_is_a_doubt(self, van):
        lines = rows(("wire", "horn", {"present": "x", "form": "aaaa bbbb"}))
        (doubt,) = recorded(lines, van, form="1111 2222").doubts
        assert "another state of the profile" in doubt


class TestMeasured:
    @every_case("text", ["1.35 ohm", "1,2 ohm", "1.5 Ω", "1300 mohm"])
    def test_sound_resistance_wire_is_no_finding(self, van, text):
        assert says(van, "wire", "ignition-resistance", present="yes", measured=text).findings == ()

    def test_resistance_wire_that_shows_nothing(self, van):
        result = says(van, "wire", "ignition-resistance", present="yes", measured="0.1 ohm")
        (finding,) = result.findings
        assert finding.measured == "0.1 ohm"
        assert finding.expected == "1.2 to 1.5 ohm"
        assert finding.means == "plain wire in its place, or another wire that bypasses it"
        (entry,) = result.change_wires
        assert "resistance" not in entry, "a finding is not taken over by itself"
        assert entry["condition"] == ("measured off",)

    def test_copper_wire_with_a_bad_joint(self, van):
        (finding,) = says(van, "wire", "horn", present="yes", measured="0.5 ohm").findings
        assert "bad joint" in finding.means

    def test_plain_wire_found_in_place_of_the_resistance_is_judged_as_copper(self, van):
        plain = {"conductor_found": "copper", "size_found": "14 SAE", "insulation_found": "PVC"}
        cells = {"present": "yes", "measured": "0.1 ohm", **plain}
        result = says(van, "wire", "ignition-resistance", **cells)
        assert result.findings == ()

    def test_open_circuit(self, van):
        (finding,) = says(van, "wire", "horn", present="yes", measured="OL").findings
        assert "a break" in finding.means

    def test_length_found_widens_the_range(self, van):
        cells = {"present": "yes", "measured": "0.4 ohm"}
        assert says(van, "wire", "horn", **cells).findings
        assert not says(van, "wire", "horn", length_measured="28 m", **cells).findings

    @every_case("volts", ["0.15 V", "-0.15 V", "150 mV"])
    def test_drop_while_cranking_whichever_way_the_leads_are(self, van, volts):
        assert not says(van, "wire", "battery-ground", present="yes", measured=volts).findings

    def test_drop_that_is_too_high(self, van):
        (finding,) = says(van, "wire", "battery-ground", present="yes", measured="0.9 V").findings
        assert "bad joint" in finding.means

    def test_resistance_is_taken_over_only_if_asked(self, van):
        cells = {"present": "yes", "measured": "1,6 ohm", "use_measured": "x"}
        result = says(van, "wire", "ignition-resistance", **cells)
        assert result.change_wires == ({"id": "ignition-resistance", "resistance": "1.6 ohm"},)
        assert result.settings == (
            "wire ignition-resistance: resistance set to 1.6 ohm as measured; was 1.35 ohm",
        )
        assert len(result.findings) == 1

    def test_part_takes_its_rating(self, van):
        result = says(van, "part", "coil", present="yes", measured="1.4 ohm", use_measured="yes")
        assert result.change_component == (
            {"role": "coil", "ratings": {"primary_resistance": "1.4 ohm"}},
        )
        assert result.findings == ()

    @every_case(
        ("name", "cells", "column"),
        [
            ("battery", {"measured": "12.6 V", "use_measured": "yes"}, "use_measured"),
            ("battery", {"measured": "12 ohm"}, "measured"),
            ("horn", {"measured": "2 ohm"}, "measured"),
            ("coil", {"use_measured": "yes"}, "use_measured"),
            ("coil", {"measured": "OL", "use_measured": "yes"}, "use_measured"),
            ("coil", {"size_found": "16 AWG"}, "size_found"),
        ],
    )
    def test_what_a_part_does_not_have(self, van, name, cells, column):
        assert only(van, "part", name, present="yes", **cells)[0] == column

    def test_printed_unit_counts_only_where_it_is_printed(self, van):
        lines = [row("part", "battery", present="yes", measured="12,6")]
        assert recorded(lines, van, has_units=True).findings == ()
        with pytest.raises(ConfigurationError):
            recorded(lines, van)


class TestStrangers:
    def test_becomes_a_wire_of_its_own(self, van):
        result = recorded([row("stranger", "stranger-1", **STRANGER)], van)
        assert result.add_wires == (
            {
                "id": "found-1",
                "circuit": "ignition feed",
                "from": "ignition_switch.run",
                "to": "coil.positive",
                "size": "18 SAE",
                "colour": "BU",
                "insulation": "PVC",
                "length": "2.4 m",
            },
        )

    def test_names_do_not_collide(self, load):
        van = inspection(load("van_as_found"))
        lines = [row("stranger", f"stranger-{n}", **STRANGER) for n in (1, 2)]
        names = [entry["id"] for entry in recorded(lines, van).add_wires]
        assert len(set(names)) == 2
        assert not set(names) & set(van.configuration.wire_by_id)

    @every_case("column", sorted(set(STRANGER) - DOUBTED))
    def test_what_is_missing_is_a_fault(self, van, column):
        cells = {key: value for key, value in STRANGER.items() if key != column}
        assert only(van, "stranger", "stranger-1", **cells) == (column, "nothing")

    def test_empty_line_is_nothing(self, van):
        assert recorded([row("stranger", "stranger-1")], van).changes == 0

    def test_length_that_is_missing_is_a_doubt(self, van):
        cells = {key: value for key, value in STRANGER.items() if key != "length_measured"}
        (doubt,) = says(van, "stranger", "stranger-1", **cells).doubts
        assert "follows from the routes" in doubt


class TestWhatIsClearIsTaken:
    """Not strict: one unclear answer does not cost the others."""

    def clear(self, van, *lines, **options):
        return recorded(rows(*lines), van, strict=False, **options)

    def test_a_cell_that_cannot_be_read_costs_no_other_answer(self, van):
        cells = {"present": "yes", "colour_found": "blurple", "length_measured": "4'7\""}
        result = self.clear(van, ("wire", "horn", cells), ("wire", "coil-feed", {"present": "huh"}))
        assert [entry["id"] for entry in result.change_wires] == ["horn"]
        assert result.change_wires[0]["length"] == "4 ft 7 in"
        assert (result.left[0].line, result.left[0].subject) == (2, "wire horn, colour_found")

    def test_a_line_that_contradicts_itself_is_left_out_whole(self, van):
        result = self.clear(van, ("wire", "horn", {"present": "no", "size_found": "14 SAE"}))
        assert result.changes == 0
        assert "horn" in result.not_looked_at
        assert len(result.left) == 1

    def test_what_was_written_is_told_with_its_place(self, van):
        result = self.clear(van, ("stranger", "", {**STRANGER, "to_found": "left thingamy"}))
        assert result.add_wires == ()
        assert result.left[0].found == "no terminal 'left thingamy'"


@every_case("end", ["coil +", "coil plus", "Coil.+"])
def test_coil_plus_is_the_positive_terminal(van, end):
    result = says(van, "stranger", "", **{**STRANGER, "to_found": end})
    assert result.add_wires[0]["to"] == "coil.positive"


@every_case(
    ("text", "length"),
    [("6 feet", "6 ft"), ("4'", "4 ft"), ("about 1 m", "1 m"), ("1,4 m", "1.4 m")],
)
def test_a_length_is_read_as_people_write_it(van, text, length):
    result = says(van, "stranger", "", **{**STRANGER, "length_measured": text})
    assert result.add_wires[0]["length"] == length


def test_insulation_and_circuit_of_a_stranger_may_be_said_loosely(van):
    cells = {name: text for name, text in STRANGER.items() if name != "insulation_found"}
    result = says(van, "stranger", "", **{**cells, "circuit_found": "ignition"})
    assert result.add_wires[0]["insulation"] == "PVC"
    assert result.add_wires[0]["circuit"] == "ignition feed"
    assert "insulation not said" in result.doubts[0]


@every_case(("text", "value"), [(".4", "0.4 V"), ("-.4", "-0.4 V"), ("1,6", "1.6 V")])
def test_a_bare_number_beside_a_printed_unit_has_that_unit(van, text, value):
    volts = next(m for m in van.measurements if m.dimension is Dimension.VOLTAGE)
    result = recorded(
        [row(volts.kind, volts.id, present="yes", measured=text)],
        van,
        has_units=True,
        is_european=True,
    )
    (finding,) = result.findings or (None,)
    said = finding.measured if finding else result.agreeing[0]
    assert value in said
