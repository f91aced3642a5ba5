"""Wires to a spreadsheet and back: nothing is lost, and nothing but what was changed is changed."""

import csv
import io
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from attrs import evolve
from every_case import every_case
from hypothesis import given, settings
from hypothesis import strategies as st
from spreadsheet_habits import habits, spoilt

from upgrade_planner.configuration.files.toml_text import quoted_text, table_list
from upgrade_planner.configuration.loading import load_configuration
from upgrade_planner.configuration.tables.wire_csv import wires_to_csv
from upgrade_planner.configuration.values.colours import parse_colour
from upgrade_planner.configuration.values.insulation import parse_insulation
from upgrade_planner.configuration.values.sizes import parse_wire_size
from upgrade_planner.errors import ConfigurationError
from upgrade_planner.jobs.record import record

NAMES = ["van_as_found", "tractor_upgraded", "tractor_original"]
NOTE_MARKS = "=+-@'\"\\,;: \t\nabcÄ½²0.5"
NOTES = st.text(st.sampled_from(NOTE_MARKS), min_size=1, max_size=12).filter(str.strip)
LENGTHS = st.floats(0.01, 50, allow_nan=False).map(lambda metres: f"{metres!r} m")

# column, text, attribute of the wire, value
CHANGES = [
    ("size", "35 mm²", "size", parse_wire_size("35 mm²")),
    ("size", "8 AWG", "size", parse_wire_size("8 AWG")),
    ("colour", "PK/TQ", "colour", parse_colour("PK/TQ")),
    ("insulation", "ISO-H", "insulation", parse_insulation("ISO-H")),
    ("circuit", "fuel", "circuit", "fuel"),
    ("length", "3.25 m", "measured_length_m", 3.25),
    ("note", "=HYPERLINK(1)", "note", "=HYPERLINK(1)"),
]


def noted(name, notes, lengths):
    """A configuration file whose wires have these notes and measured lengths."""
    wires = load_configuration(name).wires
    entries = [
        {"id": wire.id, "note": note, "length": length}
        for wire, note, length in zip(wires, notes, lengths, strict=False)
    ]
    lines = [
        "[configuration]",
        'title = "T"',
        'summary = ""',
        f"based_on = {quoted_text(name)}",
        "[as_found]",
        *table_list("change_wires", entries),
    ]
    return "\n".join(lines)


def after(folder, base, text):
    form = folder / "wires.csv"
    form.write_bytes(text.encode())
    record(str(base), form, folder / "my.toml")
    return load_configuration(str(folder / "my.toml"))


@settings(max_examples=25)
@given(
    name=st.sampled_from(NAMES),
    habit=habits(),
    notes=st.lists(NOTES, max_size=8),
    lengths=st.lists(LENGTHS, min_size=8, max_size=8),
)
def test_nothing_changed_gives_the_same_digest(name, habit, notes, lengths):
    with TemporaryDirectory() as place:
        folder = Path(place)
        base = folder / "base.toml"
        base.write_text(noted(name, notes, lengths), encoding="utf-8")
        before = load_configuration(str(base))
        assert after(folder, base, spoilt(wires_to_csv(before), habit)).digest == before.digest


@settings(max_examples=25)
@given(
    name=st.sampled_from(NAMES),
    habit=habits(),
    change=st.sampled_from(CHANGES),
    number=st.integers(0, 1000),
)
def test_one_changed_cell_changes_that_and_nothing_else(name, habit, change, number):
    column, text, attribute, value = change
    before = load_configuration(name)
    wire = before.wires[number % len(before.wires)]
    rows = list(csv.DictReader(io.StringIO(wires_to_csv(before), newline="")))
    next(row for row in rows if row["id"] == wire.id)[column] = text
    with TemporaryDirectory() as place:
        now = after(Path(place), name, spoilt(_written(rows), habit))
    for old in before.wires:
        new = now.wire_by_id[old.id]
        wanted = evolve(old, **{attribute: value}) if old.id == wire.id else old
        assert evolve(new, as_found=old.as_found) == wanted
    assert now.components == before.components


def _written(rows):
    out = io.StringIO()
    writer = csv.DictWriter(out, rows[0], lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows)
    return out.getvalue()


class TestSingleChanges:
    @pytest.fixture
    def rows(self):
        text = wires_to_csv(load_configuration("van_as_found"))
        return list(csv.DictReader(io.StringIO(text, newline="")))

    def recorded(self, tmp_path, rows):
        return after(tmp_path, "van_as_found", _written(rows))

    def row(self, rows, name):
        return next(row for row in rows if row["id"] == name)

    def test_row_taken_out_is_a_wire_removed(self, tmp_path, rows):
        now = self.recorded(tmp_path, [row for row in rows if row["id"] != "horn"])
        assert "horn" not in now.wire_by_id
        assert len(now.wires) == len(rows) - 1

    def test_row_put_in_is_a_wire_added(self, tmp_path, rows):
        new = {**self.row(rows, "horn"), "id": "second-horn", "colour": "TQ", "length": "1,25 m"}
        now = self.recorded(tmp_path, [*rows, new])
        assert now.wire_by_id["second-horn"].measured_length_m == 1.25
        assert now.wire_by_id["second-horn"].colour.code == "TQ"

    def test_measured_length_taken_out_follows_from_the_routes_again(self, tmp_path, rows):
        self.row(rows, "high-beam-right")["length"] = ""
        now = self.recorded(tmp_path, rows)
        assert now.wire_by_id["high-beam-right"].measured_length_m is None
        assert not now.runs["high-beam-right"].measured

    def test_note_and_loom_taken_out(self, tmp_path, rows):
        self.row(rows, "found-bypass").update(note="", route="")
        wire = self.recorded(tmp_path, rows).wire_by_id["found-bypass"]
        assert (wire.note, wire.loom) == ("", "")

    def test_resistance_wire_becomes_plain(self, tmp_path, rows):
        self.row(rows, "ignition-resistance").update(conductor="", resistance="")
        wire = self.recorded(tmp_path, rows).wire_by_id["ignition-resistance"]
        assert wire.resistance_ohm is None
        assert str(wire.conductor) == "copper"

    @every_case("note", ["a\rb", "\rb", "'=1", "=1", "a\r\nb"])
    def test_note_with_odd_characters_is_not_lost(self, tmp_path, note):
        base = tmp_path / "base.toml"
        base.write_bytes(noted("van_as_found", [note], ["1 m"]).encode())
        before = load_configuration(str(base))
        assert before.wires[0].note == note
        now = after(tmp_path, base, wires_to_csv(before))
        assert now.digest == before.digest

    def test_live_and_grounded_posts_are_the_posts_they_mean(self, tmp_path, rows):
        self.row(rows, "battery-ground")["from"] = "battery.grounded"
        before = load_configuration("van_as_found")
        assert self.recorded(tmp_path, rows).digest == before.digest

    @pytest.mark.parametrize(
        ("column", "text", "found"),
        [
            ("to", "coil.plus", "no terminal 'coil.plus' that takes a wire"),
            ("to", "distributor.case", "no terminal 'distributor.case' that takes a wire"),
            ("size", "16", '"16" without a size system'),
            ("length", "1,350 m", '"1,350 m" with a comma'),
            ("colour", "GREENISH", '"GREENISH"'),
            ("if_present", "tachometer", "the condition 'tachometer' on a wire of one vehicle"),
            ("id", "horn-feed", "the wire 'horn-feed' a second time (the first is in row "),
        ],
    )
    def test_faults_have_row_and_cell_and_nothing_is_written(
        self, tmp_path, rows, column, text, found
    ):
        number = next(n for n, row in enumerate(rows, 2) if row["id"] == "horn")
        self.row(rows, "horn")[column] = text
        with pytest.raises(ConfigurationError) as caught:
            self.recorded(tmp_path, rows)
        (problem,) = caught.value.problems
        later = 1 if column == "id" else 0  # the second of two rows is the one at fault
        assert (problem.line, problem.column) == (number + later, list(rows[0]).index(column) + 1)
        assert problem.found.startswith(found)
        assert not (tmp_path / "my.toml").exists()
        assert [path.name for path in tmp_path.iterdir()] == ["wires.csv"]
