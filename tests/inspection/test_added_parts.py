"""Lines of the form about parts that are not in the profile, and signs that were ticked."""

import pytest
from attrs import evolve
from every_case import every_case

from upgrade_planner.configuration.loading import load_configuration
from upgrade_planner.configuration.tables.spreadsheet import Row
from upgrade_planner.documents.profiles.as_found_text import AsFoundFile, as_found_text
from upgrade_planner.inspection.found_signs import with_signs
from upgrade_planner.inspection.recorded import Recorded, recorded
from upgrade_planner.inspection.terminal_names import TerminalNames
from upgrade_planner.inspection.walk import inspection

LAMP = {
    "marked": "work lamp 55 W",
    "from_found": "lamp_switch.out",
    "size_found": "14 SAE",
    "colour_found": "BU",
    "length_measured": "1.5 m",
}


@pytest.fixture(scope="module")
def tractor(load):
    return inspection(load("tractor_original"))


def says(walked, name="added-1", line="added", **cells):
    return recorded([Row("form.csv", 2, {"line": line, "id": name, **cells}, {})], walked)


def left(walked, **cells):
    row = Row("form.csv", 2, {"line": "added", "id": "added-1", **cells}, {})
    result = recorded([row], walked, strict=False)
    return {one.subject.rpartition(", ")[2]: one.found for one in result.left}


def written(result, folder):
    """The configuration that the recorded entries make."""
    names = ("remove_wires", "change_wires", "add_wires", "change_component", "add_component")
    content = AsFoundFile(
        title="Mine",
        summary="Mine.",
        based_on="tractor_original",
        opening=(),
        sections={},
        note="Looked at.",
        changes={name: getattr(result, name) for name in names},
    )
    path = folder / "mine.toml"
    path.write_text(as_found_text(content), encoding="utf-8")
    return load_configuration(str(path))


class TestAddedParts:
    def test_a_lamp_becomes_a_part_with_a_wire(self, tractor, tmp_path):
        mine = written(says(tractor, **LAMP), tmp_path)
        lamp = mine.component("added_lamp")
        assert (lamp.kind, lamp.ratings["power"]) == ("lamp", 55)
        assert lamp.ratings["rated_voltage"] == tractor.configuration.vehicle.voltage_v
        feed = mine.wire_by_id["added-lamp-supply"]
        assert [str(ref) for ref in feed.ends] == ["lamp_switch.out", "added_lamp.supply"]
        assert mine.runs[feed.id].length_m == 1.5

    def test_a_colour_that_is_not_said_is_a_doubt_and_loses_no_lamp(self, tractor, tmp_path):
        result = says(tractor, **{**LAMP, "colour_found": ""})
        assert any("colour of its wire not said; GY" in doubt for doubt in result.doubts)
        assert written(result, tmp_path).wire_by_id["added-lamp-supply"].colour.code == "GY"

    @every_case("what", ["radio", "electric fan", "washer pump 5 A", "alarm", "horn"])
    def test_every_sort_loads_with_a_ground_of_its_own(self, tractor, tmp_path, what):
        ground = next(p.role for p in tractor.configuration.components if p.kind == "ground_point")
        result = says(tractor, **LAMP | {"marked": what, "to_found": f"{ground}.stud"})
        mine = written(result, tmp_path)
        (part,) = [p for p in mine.components if p.role.startswith("added_")]
        assert any(f"{part.role}.return" in map(str, wire.ends) for wire in mine.wires)
        said = any("stand for it" in doubt for doubt in result.doubts)
        assert said == ("5 A" not in what)

    def test_a_hidden_switch_sits_in_the_wire_between_its_ends(self, tractor, tmp_path):
        wire = next(w for w in tractor.configuration.wires if w.circuit == "ignition feed")
        start, end = map(str, wire.ends)
        hidden = {"marked": "hidden switch", "from_found": end, "to_found": start}
        mine = written(says(tractor, **hidden), tmp_path)
        assert [*map(str, mine.wire_by_id[wire.id].ends)] == [start, "added_switch.in"]
        rest = mine.wire_by_id["added-switch-out"]
        assert [*map(str, rest.ends)] == ["added_switch.out", end]
        assert next(iter(mine.component("added_switch").ratings["positions"])) == "on"

    @every_case(
        ("cells", "column", "found"),
        [
            ({"marked": "gadget"}, "marked", "'gadget'"),
            ({"from_found": ""}, "from_found", "nothing"),
            ({"from_found": "somewhere"}, "from_found", "no terminal 'somewhere'"),
            ({"size_found": ""}, "size_found", "nothing"),
            ({"place_found": "attic"}, "place_found", "'attic'"),
        ],
    )
    def test_what_is_not_clear_is_left_with_its_field(self, tractor, cells, column, found):
        row = {name: text for name, text in {**LAMP, **cells}.items() if text}
        assert left(tractor, **row)[column] == found

    def test_a_place_may_be_said_in_words(self, tractor):
        place = tractor.configuration.places[-1]
        (part,) = says(tractor, **LAMP, place_found=place.name).add_component
        assert part["place"] == place.id

    def test_a_switch_in_a_resistance_wire_wants_the_size_of_what_leads_on(self, load):
        van = inspection(load("van_original_resistance"))
        start, end = map(str, van.configuration.wire_by_id["ignition-resistance"].ends)
        unclear = left(van, marked="switch", from_found=start, to_found=end)
        assert set(unclear) == {"size_found", "colour_found"}

    def test_a_place_that_is_not_said_is_a_doubt(self, tractor):
        doubts = says(tractor, **LAMP).doubts
        assert any("stands where lamp switch out is" in doubt for doubt in doubts)

    def test_a_switch_in_a_wire_that_is_gone_is_refused(self, tractor):
        wire = next(w for w in tractor.configuration.wires if w.circuit == "ignition feed")
        start, end = map(str, wire.ends)
        rows = [
            Row("form.csv", 2, {"line": "wire", "id": wire.id, "present": "no"}, {}),
            Row(
                "form.csv",
                3,
                {"line": "added", "id": "a", "marked": "switch", "from_found": start}
                | {"to_found": end},
                {},
            ),
        ]
        (one,) = recorded(rows, tractor, strict=False).left
        assert "absent or joined elsewhere" in one.found


@every_case(
    ("said", "condition"),
    [("corroded at the solenoid", "corroded end"), ("burnt through, taped", "burnt")],
)
def test_a_state_may_say_where_and_loses_no_word(tractor, said, condition):
    wire = tractor.configuration.wires[0].id
    (entry,) = says(tractor, wire, "wire", present="x", condition=said).change_wires
    assert condition in entry["condition"]
    assert entry["note"] == f"State: {said}."


def test_a_part_may_be_called_by_what_it_is(tractor):
    names = TerminalNames(tractor.configuration)
    assert str(names.find("key switch 15")) == "ignition_switch.ignition"
    assert names.find("lamp 58") is None  # there are several lamps


def test_a_worn_wire_is_said_in_plain_words(tractor):
    wire = tractor.configuration.wires[0].id
    (entry,) = says(tractor, wire, "wire", present="x", condition="melted, chafed").change_wires
    assert entry["condition"] == ("cracked", "burnt")


class TestFoundSigns:
    def test_one_that_is_written_nowhere_is_a_question_with_both_answers(self, tractor):
        sign = next(one for one in tractor.signs if one.where and not one.condition)
        (question,) = with_signs(Recorded(), [sign.id], tractor).questions
        assert question.startswith(sign.look)
        assert "1: " in question
        assert sign.record in question

    def test_one_that_is_written_down_is_no_question(self, tractor):
        sign = next(one for one in tractor.signs if one.where and not one.condition)
        for result in (
            Recorded(remove_wires=(sign.where[0],)),
            Recorded(add_wires=({"id": "a", "from": f"{sign.where[0]}.x", "to": "b.c"},)),
        ):
            assert with_signs(result, [sign.id], tractor) == result

    def test_one_that_tells_the_state_of_a_part_is_a_change(self, tractor):
        sign = evolve(
            tractor.signs[0], where=(tractor.configuration.components[0].role,), condition="burnt"
        )
        walked = evolve(tractor, signs=(sign,))
        result = with_signs(Recorded(), [sign.id], walked)
        (entry,) = result.change_component
        assert entry == {"role": sign.where[0], "condition": ("burnt",)}
        assert not result.questions

    def test_one_that_nobody_asked_for_is_not_lost(self, tractor):
        (question,) = with_signs(Recorded(), ["odd"], tractor).questions
        assert "'odd'" in question
