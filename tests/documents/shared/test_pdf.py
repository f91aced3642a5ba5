"""The work sheet as PDF: same bytes, nothing fetched, no row cut, no heading left alone."""

import builtins
import gc
import hashlib
import io
import os
import pickle
import re
import subprocess
import sys
import time
from functools import cache
from random import Random

import pytest
from attrs import evolve
from every_case import every_case
from page_layout import faults_of, printed_and_laid_out
from pdf_words import page_text
from places import ROOT
from pypdf import PdfReader
from sample import all_rows, sheet
from short_sheet import CREATED, PAGE, PLAN, pdf_of, short, short_html

from upgrade_planner.documents.shared.engine import MissingLibrary
from upgrade_planner.documents.shared.html import worksheet_html
from upgrade_planner.documents.shared.pdf import RenderingFault

PAPERS = ("A4", "Letter")


@cache
def made(paper):
    """The sample as a file, and where things lie on it."""
    html = worksheet_html(sheet(), paper=paper)
    return printed_and_laid_out(html, identity=sheet().identity, plan_json=PLAN, created=CREATED)


@cache
def shown(paper="A4"):
    """The sample as a file, opened by another library."""
    return PdfReader(io.BytesIO(made(paper)[0]))


@cache
def pages(paper="A4"):
    """The words of each page without white space: line ends do not matter here."""
    return [squeezed(page_text(page)) for page in shown(paper).pages]


def text(paper="A4"):
    """All words of the sample, in the same form."""
    return "".join(pages(paper))


def squeezed(words):
    return re.sub(r"[\s\u2060]", "", words)


class TestFile:
    def test_same_arguments_give_the_same_bytes(self):
        assert pdf_of(short_html()) == short()

    @pytest.mark.parametrize("system_fonts", [True, False])
    def test_other_process_zone_fonts_and_hash_seed_give_the_same_bytes(
        self, tmp_path, system_fonts
    ):
        program = (
            "import hashlib, pickle, sys\n"
            "from upgrade_planner.documents.shared.pdf import worksheet_pdf\n"
            "html, settings = pickle.load(sys.stdin.buffer)\n"
            "print(hashlib.sha256(worksheet_pdf(html, **settings)).hexdigest())"
        )
        settings = {"identity": sheet().identity, "plan_json": PLAN, "created": CREATED}
        changed = {"TZ": "Asia/Tokyo", "PYTHONHASHSEED": "77", "PYTHONPATH": str(ROOT)}
        changed["TMPDIR"] = str(tmp_path)
        if not system_fonts:
            none = tmp_path / "fonts.conf"
            none.write_text(
                '<?xml version="1.0"?><!DOCTYPE fontconfig SYSTEM "fonts.dtd">'
                f"<fontconfig><cachedir>{tmp_path}</cachedir></fontconfig>"
            )
            changed["FONTCONFIG_FILE"] = str(none)
        other = subprocess.run(
            [sys.executable, "-c", program],
            input=pickle.dumps((short_html(), settings)),
            env={**os.environ, **changed},
            capture_output=True,
            check=True,
        )
        assert other.stderr == b""
        assert other.stdout.decode().strip() == hashlib.sha256(short()).hexdigest()
        assert list(tmp_path.glob("weasyprint-*")) == [], "fonts are left behind"

    def test_other_subsetting_library_gives_the_same_bytes_later(self, monkeypatch):
        monkeypatch.setattr("weasyprint.pdf.fonts.harfbuzz_subset", None)
        monkeypatch.delenv("SOURCE_DATE_EPOCH", raising=False)
        first = pdf_of(short_html())
        time.sleep(1.1)
        assert pdf_of(short_html()) == first
        assert "SOURCE_DATE_EPOCH" not in os.environ

    def test_plan_is_attached(self):
        assert shown().attachments == {"upgrade-plan.json": [PLAN.encode()]}

    def test_without_a_plan_nothing_is_attached(self):
        reader = PdfReader(io.BytesIO(pdf_of(PAGE, plan=None)))
        assert reader.attachments == {}

    def test_title_language_date_and_tags_are_set(self):
        catalog = shown().trailer["/Root"]
        assert shown().metadata.title == f"{sheet().identity.title}, WS-0042"
        assert shown().metadata.creation_date == CREATED
        assert catalog["/Lang"] == "en"
        assert catalog["/MarkInfo"]["/Marked"]
        assert catalog["/ViewerPreferences"]["/DisplayDocTitle"]
        assert b"pdfuaid:part" in catalog["/Metadata"].get_data()

    def test_time_without_zone_counts_as_utc(self):
        naive = CREATED.replace(tzinfo=None)
        assert pdf_of(PAGE, created=naive) == pdf_of(PAGE)

    def test_only_our_two_fonts_are_inside(self):
        names = set()
        for paper in PAPERS:
            for page in shown(paper).pages:
                for font in page["/Resources"]["/Font"].values():
                    names.add(font.get_object()["/BaseFont"].partition("+")[2])
        assert names == {"Sheet-Sans", "Sheet-Sans-Bold"}

    def test_size_is_modest(self):
        assert shown().stream.getbuffer().nbytes < 250_000

    def test_collector_is_on_again_afterwards(self):
        pdf_of(PAGE)
        assert gc.isenabled()


class TestContent:
    @every_case("paper", PAPERS)
    def test_page_count_is_sensible(self, paper):
        assert 10 <= len(shown(paper).pages) <= 17

    def test_paper_sizes(self):
        assert [round(float(x)) for x in shown("A4").pages[0].mediabox[2:]] == [595, 842]
        assert [round(float(x)) for x in shown("Letter").pages[0].mediabox[2:]] == [612, 792]

    def test_every_row_and_every_wire_is_printed(self):
        for row in all_rows():
            said = row.action if row.says_action else ""
            assert row.number in text()
            assert squeezed(said + row.instruction) in text()
            assert squeezed(row.expected) in text()
        for wire in sheet().changed:
            assert squeezed(wire.mark) in text()
            assert squeezed(wire.conductor) in text()
        for line in sheet().kept:
            assert squeezed(line) in text()
        for reading in sheet().record:
            assert squeezed(reading.state) in text()
            assert squeezed(reading.limit) in text()

    @every_case("number", [0, 2])
    def test_words_are_those_that_another_library_reads(self, number):
        assert pages()[number] == squeezed(shown().pages[number].extract_text())

    def test_headings_are_bookmarks(self):
        titles = []

        def collect(entries):
            for entry in entries:
                collect(entry) if isinstance(entry, list) else titles.append(entry.title)

        collect(shown().outline)
        assert titles[0] == sheet().identity.title
        assert [f"{phase.letter} {phase.title}" for phase in sheet().phases] == [
            title for title in titles if re.match("[A-L] ", title)
        ]

    @every_case("paper", PAPERS)
    def test_every_page_can_be_traced(self, paper):
        for number, words in enumerate(pages(paper), start=1):
            assert squeezed(f"WS-0042 rev B · {sheet().identity.vehicle}") in words
            assert squeezed(f"Page {number} of {len(pages(paper))}") in words
            assert squeezed(f"WS-0042 rev B · {sheet().identity.check_code}") in words
            assert squeezed("Stop if the vehicle differs from this sheet.") in words
            assert squeezed("Go back three steps") in words

    def test_running_head_names_the_phase_that_continues(self):
        for words in pages():
            begins = re.search(r"Phase([A-L]):", words)
            first = re.search(r"(?<![A-Z0-9])([A-L])\d{1,2}(?=[A-Za-z])", words)
            if begins and first and f"{begins[1]}complete" in words:
                assert begins[1] == first[1]

    def test_safety_messages_stand_between_phase_heading_and_first_step(self):
        for phase in sheet().phases:
            start = text().index(squeezed(f"Phase {phase.letter} complete"))
            first = text().rindex(squeezed(phase.blocks[0].rows[0].instruction), 0, start)
            for message in phase.safety:
                place = text().rindex(squeezed(message.hazard), 0, start)
                assert place < first
                previous = chr(ord(phase.letter) - 1)
                if previous >= "A":
                    assert place > text().index(squeezed(f"Phase {previous} complete"))

    def test_cells_are_not_nested(self):
        root = shown().trailer["/Root"]["/StructTreeRoot"]["/K"][0].get_object()
        waiting = [(root, "")]
        kinds = set()
        while waiting:
            element, parent = waiting.pop()
            kind = element.get("/S", "")
            kinds.add(kind)
            assert (parent, kind) not in {("/TD", "/TD"), ("/TH", "/TD"), ("/TH", "/TH")}
            children = element.get("/K", [])
            for child in children if isinstance(children, list) else [children]:
                found = child.get_object() if not isinstance(child, int) else child
                if isinstance(found, dict):
                    waiting.append((found, kind))
        assert {"/H1", "/H2", "/H3", "/Table", "/TH", "/TD", "/Figure"} <= kinds


class TestPageBreaks:
    @every_case("paper", PAPERS)
    def test_no_row_is_cut_and_no_heading_left_alone(self, paper):
        html = worksheet_html(sheet(), paper=paper)
        assert faults_of(html, made(paper)[1]) == []

    @pytest.mark.parametrize("seed", range(4))
    def test_wherever_the_pages_break(self, seed):
        random = Random(seed)
        html = re.sub(
            "<section",
            lambda found: f'<div style="height: {random.randrange(70)}mm"></div>{found[0]}',
            worksheet_html(sheet(), paper=random.choice(PAPERS)),
        )
        assert [fault for fault in faults_of(html) if not fault.startswith("page")] == []


class TestRefusals:
    @every_case(
        "hostile",
        [
            '<img src="http://192.0.2.1/x.png" alt="">',
            '<img src="file:///etc/hostname" alt="">',
            '<img src="x.png" alt="">',
            '<img src="data:image/png;base64,AAAA" alt="">',
            '<p style="background: url(file:///etc/hostname)">x</p>',
            '<style>@import url("http://192.0.2.1/x.css");</style>',
            '<style>@import "sheet:../sheet.css";</style>',
            '<link rel="stylesheet" href="http://192.0.2.1/x.css">',
            '<link rel="attachment" href="file:///etc/hostname">',
            '<svg><image href="file:///etc/hostname" width="9" height="9"/></svg>',
            '<object data="file:///etc/hostname"></object>',
            '<img src="sheet:secret" alt="">',
        ],
    )
    def test_any_address_but_our_fonts_stops_the_run(self, hostile):
        assert pdf_of(PAGE).startswith(b"%PDF")
        with pytest.raises(RenderingFault):
            pdf_of(PAGE.replace("<header>", f"{hostile}<header>"))

    def test_address_in_a_field_is_only_text(self):
        hostile = '<img src="file:///etc/hostname"><style>@import url(http://192.0.2.1/)</style>'
        html = short_html(intro=hostile, identity=evolve(sheet().identity, owner=hostile))
        reader = PdfReader(io.BytesIO(pdf_of(html)))
        assert squeezed(hostile) in squeezed(page_text(reader.pages[0]))

    def test_complaint_of_the_engine_is_a_fault(self):
        style = "<style>body { no-such-property: 1; }</style>"
        for _ in range(2):
            with pytest.raises(RenderingFault, match="no-such-property") as caught:
                pdf_of(PAGE.replace("<header>", f"{style}<header>"))
            assert len(caught.value.complaints) == 1
        assert gc.isenabled()

    def test_character_that_no_font_has_is_named(self):
        with pytest.raises(RenderingFault, match=r"no character .*\(U\+FFFE\)"):
            pdf_of(PAGE.replace("<header>x", "<header>here: \ufffe"))

    def test_missing_library_names_the_packages(self, monkeypatch):
        real = builtins.__import__

        def broken(name, *rest):
            if name == "weasyprint":
                raise OSError("cannot load library 'libpangoft2-1.0-0'")
            return real(name, *rest)

        monkeypatch.setattr(builtins, "__import__", broken)
        with pytest.raises(MissingLibrary, match=r"libpangoft2-1\.0-0 libharfbuzz-subset0"):
            pdf_of("<p>x</p>")
