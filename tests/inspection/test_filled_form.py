"""A form comes back: from a spreadsheet with its habits, from the PDF, from its fields as JSON."""

import csv
import io
import json
import logging
import tomllib
from datetime import date
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pypdf
import pytest
from every_case import every_case
from hypothesis import given, settings
from hypothesis import strategies as st
from pair_facts import loaded
from places import SMALL_VAN
from spreadsheet_habits import habits, spoilt

from upgrade_planner.configuration import loading
from upgrade_planner.configuration.files.shipped import shipped_profiles
from upgrade_planner.configuration.files.toml_text import comment, key_text, quoted_text, value_text
from upgrade_planner.configuration.tables.cells import decimal_point, harmless, plain
from upgrade_planner.configuration.tables.spreadsheet import read_table
from upgrade_planner.documents.shared.writing import NotWritten, write_whole
from upgrade_planner.documents.survey.form_csv import survey_csv
from upgrade_planner.electrical.sizing import load_sized
from upgrade_planner.errors import ConfigurationError
from upgrade_planner.inspection.walk import inspection
from upgrade_planner.jobs.record import DoesNotLoad, record
from upgrade_planner.jobs.survey import SurveyRequest, survey

VAN = "van_original_resistance"


def filled(name, answers, everything=""):
    """The CSV form with some cells filled; `everything` under present for all other wires."""
    text = survey_csv(inspection(load_sized(name)[0]), "metric", "2026-03-01")
    rows = list(csv.DictReader(io.StringIO(text, newline="")))
    for row in rows:
        row.update(answers.get((row["line"], row["id"]), {}))
        if everything and row["line"] in ("wire", "part") and not row["present"]:
            row["present"] = everything
    out = io.StringIO()
    writer = csv.DictWriter(out, rows[0], lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows)
    return out.getvalue()


ANSWERS = {
    ("wire", "horn"): {"present": "yes", "size_found": "1.5 mm²", "note": "=1+1"},
    ("wire", "engine-strap"): {"present": "no"},
    ("wire", "ignition-resistance"): {"present": "x", "measured": "1.25 ohm", "use_measured": "x"},
    ("wire", "tachometer"): {"present": "elsewhere", "to_found": "coil 15a"},
    ("part", "coil"): {"present": "yes", "marked": "- 12 V -", "condition": "corroded end"},
    ("stranger", "stranger-3"): {
        "from_found": "ignition_switch.run",
        "to_found": "coil.positive",
        "size_found": "18 SAE",
        "colour_found": "bu",
        "insulation_found": "pvc",
        "circuit_found": "ignition feed",
        "length_measured": "2.4 m",
    },
}


def written(folder, name, form, content, *, strict=False):
    path = folder / form
    path.write_bytes(content if isinstance(content, bytes) else content.encode())
    target = folder / "my.toml"
    outcome = record(name, path, target, replace=True, strict=strict)
    return outcome, loading.load_configuration(str(target)), target.read_text(encoding="utf-8")


@cache
def recorded_plainly():
    """A form filled without any habit, the configuration and the file that it makes."""
    text = filled(SMALL_VAN, ANSWERS)
    with TemporaryDirectory() as place:
        return text, *written(Path(place), SMALL_VAN, "form.csv", text)[1:]


class TestSpreadsheet:
    @settings(max_examples=15)
    @given(habit=habits())
    def test_habits_change_nothing(self, habit):
        text, plain_one, file = recorded_plainly()
        with TemporaryDirectory() as place:
            _, now, spoilt_file = written(Path(place), SMALL_VAN, "form.csv", spoilt(text, habit))
        assert now.digest == plain_one.digest
        assert spoilt_file == file

    def test_everything_as_printed_is_the_same_wiring(self, tmp_path):
        outcome, now, _ = written(tmp_path, VAN, "f.csv", filled(VAN, {}, everything="✓"))
        assert now.digest == loaded(VAN).digest
        assert outcome.recorded.not_looked_at == ()
        assert now.as_found_note == "Every wire of the profile was looked at."

    @pytest.mark.parametrize("name", shipped_profiles("configuration"))
    def test_every_shipped_configuration_comes_back_unchanged(self, tmp_path, name):
        base = loaded(name)
        ends = {
            ("wire", wire.id): {"present": "x", "from_found": str(wire.start)}
            for wire in base.wires
        }
        outcome, now, _ = written(tmp_path, name, "f.csv", filled(name, ends, everything="x"))
        assert outcome.recorded.changes == 0
        assert now.digest == base.digest

    def test_what_was_found_stands_in_the_vehicle(self, tmp_path):
        _, now, _ = written(tmp_path, VAN, "form.csv", filled(VAN, ANSWERS))
        assert "engine-strap" not in now.wire_by_id
        assert now.wire_by_id["horn"].size.label == "1.5\N{NO-BREAK SPACE}mm²"
        assert now.wire_by_id["horn"].note == "=1+1"
        assert now.wire_by_id["ignition-resistance"].resistance_ohm == 1.25
        assert str(now.wire_by_id["tachometer"].end) == "coil.positive"
        assert now.wire_by_id["found-1"].measured_length_m == 2.4
        assert "Marked: - 12 V -." in now.component("coil").note
        assert now.component("coil").condition == ("corroded end",)

    def test_wires_nobody_looked_at_are_named_in_the_file_and_on_the_sheet(self, tmp_path):
        _, now, text = written(tmp_path, VAN, "form.csv", filled(VAN, ANSWERS))
        assert "Nobody looked at these wires" in text
        assert "points-lead" in text
        assert now.as_found_note.startswith("Not looked at: 47 of 51 wires")

    def test_cells_that_a_spreadsheet_would_compute_are_harmless(self):
        text = survey_csv(inspection(loaded(VAN)), "both", "2026-03-01")
        for row in csv.reader(io.StringIO(text, newline="")):
            assert not any(cell.startswith(("=", "+", "-", "@", "\t", "\r")) for cell in row)

    def test_result_of_a_form_can_be_the_base_of_the_next(self, tmp_path):
        _, first, _ = written(tmp_path, VAN, "form.csv", filled(VAN, ANSWERS))
        base = tmp_path / "my.toml"
        text = filled(str(base), {("wire", "horn"): {"present": "no"}}, everything="yes")
        (tmp_path / "second.csv").write_text(text, encoding="utf-8")
        target = tmp_path / "deeper" / "second.toml"
        target.parent.mkdir()
        record(str(base), tmp_path / "second.csv", target)
        second = loading.load_configuration(str(target))
        assert set(first.wire_by_id) - set(second.wire_by_id) == {"horn"}
        assert tomllib.loads(target.read_text())["configuration"]["based_on"] == "../my.toml"


FIELDS = {
    "wire:horn:present:yes": "/on",
    "wire:horn:size_found": "1,5 mm²",
    "wire:horn:note": "=1+1",
    "wire:engine-strap:present:no": "/on",
    "wire:ignition-resistance:present:yes": "/on",
    "wire:ignition-resistance:measured": "1,25",
    "wire:ignition-resistance:use_measured:yes": "/on",
    "wire:tachometer:present:elsewhere": "/on",
    "wire:tachometer:to_found": "coil 15a",
    "part:coil:present:yes": "/on",
    "part:coil:marked": "- 12 V -",
    "part:coil:condition:corroded end": "/on",
    "head:by": "A. Person",
    "head:date": "2026-03-04",
    "sign:link-replaced": "/on",
    **{
        f"stranger:stranger-3:{key}": value
        for key, value in ANSWERS["stranger", "stranger-3"].items()
    },
}


UNCLEAR = "wire:horn:size_found"


def with_unclear_answer(filled_out):
    """The filled PDF with `a,b mm²` for `1,5 mm²`: as long, so that nothing in the file moves."""
    clear = rb"/V (1\0545 mm\262)"
    assert filled_out.count(clear) == 1
    return filled_out.replace(clear, rb"/V (a\054b mm\262)")


@pytest.fixture(scope="module")
def forms(tmp_path_factory):
    """The form filled; filled with one answer that is not clear; the page of that, from 1."""
    path = tmp_path_factory.mktemp("pdf") / "form.pdf"
    survey(
        SurveyRequest(configuration=SMALL_VAN, target=path, issued=date(2026, 3, 1), in_full=True)
    )
    writer = pypdf.PdfWriter(clone_from=path)
    for page in writer.pages:
        if page.get("/Annots"):
            writer.update_page_form_field_values(page, FIELDS)
    writer.write(path)
    filled_out = path.read_bytes()
    (on_page,) = (
        number
        for number, page in enumerate(writer.pages, start=1)
        if UNCLEAR in [note.get_object().get("/T") for note in page.annotations or ()]
    )
    return filled_out, with_unclear_answer(filled_out), on_page


@pytest.fixture(scope="module")
def pdf(forms):
    return forms[0]


@pytest.fixture(scope="module")
def recorded_pdf(pdf, tmp_path_factory):
    """The configuration and the file that the filled form makes."""
    return written(tmp_path_factory.mktemp("recorded"), SMALL_VAN, "form.pdf", pdf)[1:]


def write_form(path, field):
    """A PDF with one field to fill."""
    writer = pypdf.PdfWriter()
    writer.add_blank_page(100, 100)
    name = pypdf.generic.NameObject
    entries = {name(f"/{key}"): value for key, value in field.items()}
    made = pypdf.generic.DictionaryObject({name("/FT"): name("/Tx"), **entries})
    fields = pypdf.generic.ArrayObject([writer._add_object(made)])
    writer._root_object[name("/AcroForm")] = pypdf.generic.DictionaryObject(
        {name("/Fields"): fields}
    )
    writer.write(path)


class TestFields:
    def test_filled_pdf_gives_the_same_vehicle_as_the_spreadsheet(self, recorded_pdf):
        _, by_csv, _ = recorded_plainly()
        by_pdf, text = recorded_pdf
        assert by_pdf.digest == by_csv.digest
        assert "# Looked at: by A. Person, date 2026-03-04." in text
        assert "Signs of alterations that were not found" in text
        missed = text.partition("Signs of alterations that were not found")[2].partition(
            "[as_found]"
        )[0]
        assert "Plain wire, a heavier link" not in missed
        assert "Found of the signs of alterations: Plain wire, a heavier link" in text

    def test_no_paper_takes_its_place(self, tmp_path):
        form = tmp_path / "form.pdf"
        write_form(form, {"T": pypdf.generic.TextStringObject("wire:horn:note")})
        filled_out = form.read_bytes()
        with pytest.raises(NotWritten, match="a form to fill, somebody's work"):
            write_whole(form, b"%PDF-1.7 a sheet")
        assert form.read_bytes() == filled_out

    def test_a_refusal_names_page_and_field_of_the_pdf(self, forms, tmp_path):
        _, content, on_page = forms
        assert on_page > 1
        with pytest.raises(ConfigurationError) as caught:
            written(tmp_path, SMALL_VAN, "form.pdf", content, strict=True)
        told = str(caught.value)
        assert f"form.pdf, page {on_page}: wire horn, size_found: found" in told
        outcome, _, text = written(tmp_path, SMALL_VAN, "form.pdf", content)
        (left,) = outcome.recorded.left
        assert left.page == on_page
        assert f"page {on_page}, wire horn, size_found: found" in " ".join(text.split())

    def test_fields_as_json_give_the_same_vehicle(self, recorded_pdf, tmp_path):
        by_pdf, _ = recorded_pdf
        fields = {key: True if value == "/on" else value for key, value in FIELDS.items()}
        _, by_json, _ = written(tmp_path, SMALL_VAN, "form.json", json.dumps(fields))
        assert by_json.digest == by_pdf.digest

    @every_case("space", [" ", "\N{NO-BREAK SPACE}"])
    def test_code_of_the_form_is_the_same_however_it_is_spaced(self, tmp_path, space):
        digest = loaded(VAN).digest
        fields = {"form": f"{digest[:4]}{space}{digest[4:8]}", "wire:horn:present": "x"}
        outcome, _, _ = written(tmp_path, VAN, "form.json", json.dumps(fields))
        assert outcome.recorded.doubts == ()

    def test_form_of_another_vehicle_is_refused(self, pdf, tmp_path):
        with pytest.raises(ConfigurationError):
            written(tmp_path, "tractor_original", "form.pdf", pdf, strict=True)

    @every_case(
        ("content", "found"),
        [
            ('{"wire:horn:presnt": "x"}', "unknown field 'wire:horn:presnt'"),
            ('{"wir:horn:present": "x"}', "unknown field 'wir:horn:present'"),
            ('{"wire:horn:note:long": true}', "unknown field 'wire:horn:note:long'"),
            ('{"wire:horn:note": [1]}', "a list"),
            ('{"wire:horn:note": "a", "wire:horn:note": "b"}', "the field 'wire:horn:note' a"),
            ('["wire"]', "JSON that is no object"),
            ('{"wire', "no JSON"),
            ('{"wire:horn:present:yes": true, "wire:horn:present:no": true}', "'yes, no'"),
            ('{"wire:horn:present:no": true, "wire:horn:size_found": "16 SAE"}', "'16 SAE' on a"),
        ],
    )
    def test_what_is_wrong_with_fields(self, tmp_path, content, found):
        with pytest.raises(ConfigurationError) as caught:
            written(tmp_path, VAN, "form.json", content, strict=True)
        assert caught.value.problems[0].found.startswith(found)
        assert not (tmp_path / "my.toml").exists()

    def test_boxes_that_are_not_ticked_are_nothing(self, tmp_path):
        fields = {"wire:horn:present:no": "/Off", "wire:horn:condition:burnt": False}
        outcome, _, _ = written(tmp_path, VAN, "form.json", json.dumps(fields))
        assert outcome.recorded.changes == 0
        assert "horn" in outcome.recorded.not_looked_at


class TestRefusals:
    @every_case(
        ("name", "content", "found"),
        [
            ("form.csv", b"", "an empty file"),
            ("form.csv", b",,\n,,\n", "rows without anything in them"),
            ("form.csv", b"line,id,presnt\nwire,horn,x\n", "unknown column 'presnt'"),
            ("form.csv", b"line,present\nwire,x\n", "no column id"),
            ("form.csv", b"line,id,line\nwire,horn,x\n", "column 'line' a second time"),
            ("form.csv", b"line,id\nwire,horn,x\n", "3 cells in a row"),
            ("form.csv", b"\xff\xfe\x00", "not UTF-8 text"),
            ("form.pdf", b"%PDF-1.7 nothing", "a PDF that cannot be read"),
        ],
    )
    def test_file_that_is_no_form(self, tmp_path, name, content, found):
        with pytest.raises(ConfigurationError) as caught:
            written(tmp_path, VAN, name, content)
        assert found in str(caught.value)
        assert not (tmp_path / "my.toml").exists()

    def test_pdf_without_fields(self, tmp_path):
        writer = pypdf.PdfWriter()
        writer.add_blank_page(100, 100)
        writer.write(tmp_path / "blank.pdf")
        with pytest.raises(ConfigurationError, match="without fields to fill"):
            record(VAN, tmp_path / "blank.pdf", tmp_path / "my.toml")

    def test_number_of_thousands_of_digits(self, tmp_path):
        form = tmp_path / "form.json"
        form.write_text('{"wire:charge-output:size": ' + "9" * 5000 + "}")
        with pytest.raises(ConfigurationError, match="a number of thousands of digits"):
            record(VAN, form, tmp_path / "mine.toml")

    def test_pdf_field_whose_name_is_no_text(self, tmp_path):
        write_form(tmp_path / "form.pdf", {"T": pypdf.generic.NumberObject(7)})
        with pytest.raises(ConfigurationError, match="found a "):
            record(VAN, tmp_path / "form.pdf", tmp_path / "mine.toml")

    def test_pdf_with_a_broken_table_of_objects_is_given_up_early(self, monkeypatch, tmp_path):
        """The library's search for objects takes up to a minute, with a remark on each byte."""

        class Searching:
            def __init__(self, path, **limits):
                for at in range(100_000):
                    logging.getLogger("pypdf._reader").warning("no object at %d", at)
                raise AssertionError("searched to the end")

        monkeypatch.setattr(pypdf, "PdfReader", Searching)
        (tmp_path / "form.pdf").write_bytes(b"%PDF-1.7")
        with pytest.raises(ConfigurationError, match=r"form\.pdf: found a PDF that cannot be read"):
            record(VAN, tmp_path / "form.pdf", tmp_path / "mine.toml")
        assert logging.getLogger("pypdf").handlers == []

    def test_pdf_that_lost_its_catalog_is_not_searched_through(self, monkeypatch, tmp_path):
        """A third of a megabyte of objects took 19 s of searching before it was refused."""
        objects = b"".join(b"%d 0 obj\n<< /Kind /Line >>\nendobj\n" % i for i in range(1, 3001))
        trailer = b"trailer\n<< /Size 3001 /Root 1 0 R >>\nstartxref\n0\n%%EOF\n"
        (tmp_path / "form.pdf").write_bytes(b"%PDF-1.7\n" + objects + trailer)
        asked = []
        ask = pypdf.PdfReader.get_object

        def counted(reader, reference):
            asked.append(reference)
            return ask(reader, reference)

        monkeypatch.setattr(pypdf.PdfReader, "get_object", counted)
        with pytest.raises(ConfigurationError, match=r"form\.pdf: found a PDF that cannot be read"):
            record(VAN, tmp_path / "form.pdf", tmp_path / "mine.toml")
        assert len(asked) < 200

    def test_locked_pdf(self, tmp_path):
        writer = pypdf.PdfWriter()
        writer.add_blank_page(100, 100)
        writer.encrypt("secret", algorithm="RC4-128")
        writer.write(tmp_path / "locked.pdf")
        with pytest.raises(ConfigurationError, match="password"):
            record(VAN, tmp_path / "locked.pdf", tmp_path / "my.toml")

    @every_case("target", ["my.txt", "my", "nowhere/my.toml"])
    def test_target_that_cannot_be_written(self, tmp_path, target):
        form = tmp_path / "form.csv"
        form.write_text(filled(VAN, {}), encoding="utf-8")
        with pytest.raises(NotWritten):
            record(VAN, form, tmp_path / target)

    def test_target_that_is_the_base(self, tmp_path):
        _, _, text = written(tmp_path, VAN, "form.csv", filled(VAN, ANSWERS))
        base = tmp_path / "my.toml"
        with pytest.raises(NotWritten, match="a file that this is made from"):
            record(str(base), tmp_path / "form.csv", base, replace=True)
        assert base.read_text(encoding="utf-8") == text

    def test_entries_that_do_not_load_are_not_put_in_place(self, tmp_path):
        # the routes of the van pass this connector; no line of the form says so
        answers = {("part", "bulkhead_connector"): {"present": "no"}}
        (tmp_path / "my.toml").write_text("old", encoding="utf-8")
        with pytest.raises(DoesNotLoad, match="connector removed"):
            written(tmp_path, VAN, "form.csv", filled(VAN, answers))
        assert (tmp_path / "my.toml").read_text() == "old"
        assert sorted(path.name for path in tmp_path.iterdir()) == ["form.csv", "my.toml"]


MARKS = "=+-@'\"\\,; \t\n\r\x00\x1f\u2028abÄ#[]{}"


class TestPieces:
    @given(st.text(st.sampled_from(MARKS), max_size=8))
    def test_harmless_is_undone_exactly(self, text):
        safe = harmless(text)
        assert plain(safe) == text
        assert safe[:1] not in tuple("=+-@\t\r")

    @given(st.text(max_size=30) | st.text(st.sampled_from(MARKS), max_size=30))
    def test_any_text_survives_toml(self, text):
        line = f"{key_text(text or 'k')} = {value_text({'a': text, 'b': [text]})}"
        (table,) = tomllib.loads(line).values()
        assert table == {"a": text, "b": [text]}
        assert tomllib.loads(f"x = {quoted_text(text)}")["x"] == text

    @given(st.text(max_size=200) | st.text(st.sampled_from(MARKS), max_size=200))
    def test_no_comment_is_ever_read(self, text):
        assert tomllib.loads("\n".join(comment(text))) == {}

    @every_case(
        ("text", "is_european", "wanted"),
        [
            ("1,35 ohm", False, "1.35 ohm"),
            ("1,350 m", False, "1,350 m"),
            ("1,350 m", True, "1.350 m"),
            ("1.234,5 m", True, "1.234,5 m"),
            ("2,5 mm²", False, "2.5 mm²"),
            ("4 ft 7 in", True, "4 ft 7 in"),
            ("RD, WH", True, "RD, WH"),
        ],
    )
    def test_decimal_commas(self, text, is_european, wanted):
        assert decimal_point(text, is_european=is_european) == wanted

    def test_rows_know_their_line_and_columns(self):
        table = read_table("f.csv", '\n\na;b\n"x\ny";1\n;2;\n', ("a", "b"), ("a",), "a table")
        assert [(row.line, dict(row.cells)) for row in table.rows] == [
            (4, {"a": "x\ny", "b": "1"}),
            (6, {"b": "2"}),
        ]
        assert table.is_european
