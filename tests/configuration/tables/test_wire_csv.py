"""Wires in a spreadsheet: faults with row and cell, and the way there and back."""

from types import SimpleNamespace

from attrs import evolve
from every_case import every_case
from hypothesis import given, settings
from hypothesis import strategies as st

from upgrade_planner.configuration.files.shipped import shipped_profiles
from upgrade_planner.configuration.model import Conductor, TerminalRef, Wire
from upgrade_planner.configuration.registry import circuits
from upgrade_planner.configuration.tables.wire_csv import wires_from_csv, wires_to_csv
from upgrade_planner.configuration.values.colours import COLOUR_WORDS, Colour
from upgrade_planner.configuration.values.insulation import insulations
from upgrade_planner.configuration.values.sizes import SYSTEMS, sizes_in

HEADER = "id,circuit,from,to,size,colour,insulation"
WIRES = """\
ignition-feed,ignition feed,key.ignition,coil.positive,14 SAE,BU,GPT
points-lead,ignition primary,coil.negative,distributor.points,16 SAE,BK,GPT
"""


def with_csv(garage, content):
    """The ignition system with its wires in a CSV file."""
    text = garage.text("ignition")
    text = text[: text.index("wires = [")] + 'csv = "wires.csv"\n'
    garage.write("ignition", text)
    content = content.encode() if isinstance(content, str) else content
    garage.path("wires.csv").write_bytes(content)
    return garage


def told(garage, content):
    """The problems of a CSV file: place, subject, found."""
    problems = with_csv(garage, content).problems()
    assert {problem.file for problem in problems} == {str(garage.path("wires.csv"))}
    return [(p.line, p.column, p.subject, p.found) for p in problems]


def only(garage, content):
    (problem,) = with_csv(garage, content).problems()
    assert problem.file == str(garage.path("wires.csv"))
    return problem


class TestSoundFiles:
    def test_wires_are_those_of_the_file(self, garage):
        plain = garage.load()
        again = with_csv(garage, f"{HEADER}\n{WIRES}").load()
        assert again.wires == plain.wires
        assert again.digest == plain.digest

    @every_case(
        "spoil",
        [
            lambda text: "\N{BYTE ORDER MARK}" + text,
            lambda text: text.replace("\n", "\r\n"),
            lambda text: text.replace(",", " , "),
            lambda text: text.replace("\n", "\n,,,,,,\n\n"),
            lambda text: "\n\n" + text,
            lambda text: text.replace("key.ignition", '"key.ignition"'),
        ],
    )
    def test_habits_of_spreadsheets_are_accepted(self, garage, spoil):
        plain = garage.load().wires
        assert with_csv(garage, spoil(f"{HEADER}\n{WIRES}")).load().wires == plain

    def test_wires_may_stand_in_both_files(self, garage):
        garage.spoil("vehicle", "[wiring]", '[wiring]\ncsv = "more.csv"')
        more = "extra,lamps,key.ignition,charge_lamp.supply,14 SAE,BU,GPT\n"
        garage.path("more.csv").write_text(f"{HEADER}\n{more}", encoding="utf-8")
        assert {"extra", "key-feed"} <= set(garage.load().wire_by_id)


class TestFaultyFiles:
    def test_missing_column_is_told_once_not_for_each_row(self, garage):
        problem = only(garage, "id,circuit,from,to,size,colour\na,b,c,d,e,f\ng,h,i,j,k,l\n")
        assert (problem.line, problem.column) == (1, 6)
        assert problem.found == "no column 'insulation'"
        assert problem.expected == f"the columns {', '.join(HEADER.split(','))}, and more if wanted"

    def test_unknown_column(self, garage):
        problem = only(garage, f"{HEADER},lenght\n{WIRES}")
        assert (problem.line, problem.column) == (1, 8)
        assert problem.found == "unknown column 'lenght'"
        assert problem.expected.startswith(
            "'length', the nearest of: circuit, colour, condition, conductor,"
        )

    def test_column_twice(self, garage):
        assert told(garage, f"{HEADER},size\n{WIRES}") == [
            (1, 8, "", "column 'size' a second time")
        ]

    @every_case(("mark", "words"), [(";", "semicolons"), ("\t", "tabs")])
    def test_other_separators_are_named(self, garage, mark, words):
        problem = only(garage, f"{HEADER}\n{WIRES}".replace(",", mark))
        assert problem.found == f"columns separated by {words}"
        assert problem.expected == "columns separated by commas"

    def test_too_many_cells(self, garage):
        rows = WIRES.replace("BK,GPT", "BK,GPT,again,and again")
        problem = only(garage, f"{HEADER}\n{rows}")
        assert (problem.line, problem.column, problem.subject) == (3, 8, "points-lead")
        assert problem.found == "9 cells in a row"
        assert problem.expected.startswith("7, as in the header; a cell with a comma in it")

    def test_too_few_cells(self, garage):
        assert told(garage, f"{HEADER}\n{WIRES.replace('BK,GPT', 'BK')}") == [
            (3, 1, "points-lead", "no 'insulation'")
        ]

    def test_unquoted_decimal_comma_is_one_fault(self, garage):
        rows = WIRES.replace("14 SAE", "2,5 mm²", 1)
        problem = only(garage, f"{HEADER}\n{rows}")
        assert problem.found == "8 cells in a row"
        assert "decimal comma" in problem.expected

    def test_another_file_is_named_and_none_of_it_shown(self, garage):
        problem = only(garage, "root:x:0:0:root:/root:/bin/sh\nsecret\n")
        assert problem.found == "no column of a table of wires"
        assert "root:x" not in str(problem)

    def test_duplicate_id(self, garage):
        problem = only(garage, f"{HEADER}\n{WIRES}{WIRES.splitlines()[0]}\n")
        assert (problem.line, problem.column, problem.subject) == (4, 1, "ignition-feed")
        assert problem.found == (
            "the wire 'ignition-feed' a second time "
            f"(the first is in line 2 of {garage.path('wires.csv')})"
        )

    def test_bad_values_are_told_with_row_and_cell(self, garage):
        rows = WIRES.replace("14 SAE", "14").replace("BK", "BLACK").replace("primary", "primry")
        assert told(garage, f"{HEADER}\n{rows}") == [
            (2, 5, "ignition-feed", '"14" without a size system'),
            (3, 2, "points-lead", '"ignition primry"'),
            (3, 6, "points-lead", '"BLACK"'),
        ]

    def test_misfits_are_told_with_row_and_cell(self, garage):
        rows = WIRES.replace("coil.positive", "coil.plus").replace("distributor.", "distributer.")
        problems = told(garage, f"{HEADER}\n{rows}")
        assert [problem[:3] for problem in problems] == [
            (2, 4, "ignition-feed"),
            (3, 4, "points-lead"),
        ]

    def test_row_that_spans_lines_begins_at_its_first(self, garage):
        note = '"one\ntwo\nthree"'
        rows = f"{WIRES.splitlines()[0]},{note}\n{WIRES.splitlines()[1].replace('BK', 'B')},\n"
        assert [problem[:2] for problem in told(garage, f"{HEADER},note\n{rows}")] == [(5, 6)]

    @every_case("content", ["", "\n\n", "\N{BYTE ORDER MARK}"])
    def test_empty_file(self, garage, content):
        assert only(garage, content).found == "an empty file"

    def test_header_alone_is_an_empty_list(self, garage):
        assert "points-lead" not in with_csv(garage, HEADER).load().wire_by_id

    def test_file_of_commas(self, garage):
        assert only(garage, ",,,\n,,\n").found == "rows without anything in them"

    def test_not_utf8(self, garage):
        content = f"{HEADER}\n{WIRES}".encode().replace(b"BK", b"B\xfcK")
        problem = only(garage, content)
        assert (problem.line, problem.found) == (3, "byte 0xFC, which is not UTF-8 text")

    def test_endless_cell(self, garage):
        problem = only(garage, f"{HEADER}\n{WIRES}{'x' * 200_000}\n")
        assert problem.found == "no CSV (field larger than field limit (131072))"

    def test_file_that_is_not_there_is_told_where_it_is_named(self, garage):
        with_csv(garage, f"{HEADER}\n{WIRES}")
        garage.spoil("ignition", 'csv = "wires.csv"', '«csv = "wire.csv"')
        problem = garage.only_problem()
        assert problem.subject == "csv"
        assert problem.found == "'wire.csv', a file that is not there"
        assert problem.expected == "'wires.csv'?"

    def test_folder_instead_of_a_file(self, garage):
        with_csv(garage, "").path("wires.csv").unlink()
        garage.path("wires.csv").mkdir()
        (problem,) = garage.problems()
        assert (problem.found, problem.expected) == ("a folder", "a CSV file of wires")


ROLES = st.from_regex(r"[a-z][a-z0-9_]{0,9}", fullmatch=True)
NAMES = st.from_regex(r"[A-Za-z0-9][A-Za-z0-9_-]{0,20}", fullmatch=True)
TEXTS = st.text(st.characters(exclude_categories=["C", "Zl", "Zp"]) | st.sampled_from('\n\t\r",;='))
LENGTHS_M = st.floats(1e-6, 1e6)
SIZES = st.sampled_from([size for system in SYSTEMS for size in sizes_in(system)])
COLOURS = st.one_of(
    st.sampled_from(sorted(COLOUR_WORDS)).map(Colour),
    st.sampled_from([Colour("BN", "WH"), Colour("RD", "BK"), Colour("GN", "YE")]),
)


CIRCUITS = st.sampled_from(sorted(circuits()))
CONDUCTORS = st.sampled_from(Conductor)
INSULATIONS = st.sampled_from(insulations())
MEASURED_M = st.none() | LENGTHS_M
LOOMS = TEXTS.map(str.strip)


@st.composite
def wires(draw):
    """Any wire that a profile can state."""
    conductor = draw(CONDUCTORS)
    return Wire(
        id=draw(NAMES),
        circuit=draw(CIRCUITS),
        start=TerminalRef(draw(ROLES), "in"),
        end=TerminalRef(draw(ROLES), "out"),
        size=draw(SIZES),
        conductor=conductor,
        resistance_ohm=draw(LENGTHS_M) if conductor is Conductor.RESISTANCE else None,
        insulation=draw(INSULATIONS),
        colour=draw(COLOURS),
        measured_length_m=draw(MEASURED_M),
        loom=draw(LOOMS),
        note=draw(TEXTS),
    )


def read_back(text, folder):
    """Wires of CSV text, as they were before they were written."""
    path = folder / "back.csv"
    path.write_bytes(text.encode())
    table = wires_from_csv(path)
    assert (table.faults, table.problems) == ((), ())
    return [
        Wire(
            id=entry.id,
            circuit=entry.circuit,
            start=TerminalRef(*entry.start.split(".")),
            end=TerminalRef(*entry.end.split(".")),
            size=entry.size.options[0],
            conductor=entry.conductor,
            resistance_ohm=entry.resistance,
            insulation=entry.insulation.options[0],
            colour=entry.colour,
            measured_length_m=entry.length,
            loom=entry.route,
            condition=entry.condition,
            note=entry.note,
        )
        for entry in table.content
    ]


class TestRoundTrip:
    @every_case("name", shipped_profiles("configuration"))
    def test_shipped_wires_come_back_the_same(self, load, name, tmp_path):
        loaded = load(name)
        plain = [
            evolve(wire, as_found=False, altered=False, slot="vehicle") for wire in loaded.wires
        ]
        assert read_back(wires_to_csv(loaded), tmp_path) == plain

    @settings(max_examples=200)
    @given(wires=st.lists(wires(), max_size=4))
    def test_any_wires_come_back_the_same(self, tmp_path_factory, wires):
        text = wires_to_csv(SimpleNamespace(wires=wires))
        assert read_back(text, tmp_path_factory.getbasetemp()) == wires
