"""The work sheet as HTML: everything on it once, everything escaped, nothing fetched."""

import re
from html import escape
from html.parser import HTMLParser

import pytest
from attrs import evolve
from every_case import every_case
from sample import FINDINGS, LONG_MARK, MARKUP, UNBROKEN_MARK, all_rows, sheet

from upgrade_planner.documents.shared.html import UnknownPaper, worksheet_html

VOID = {"meta", "col", "input", "br", "link", "img"}


class Reader(HTMLParser):
    """Keeps elements as (tag, attributes, own text with inner text) in document order."""

    def __init__(self, html):
        super().__init__()
        self.elements = []
        self.open = []
        self.unclosed = []
        self.feed(html)
        self.close()

    def handle_starttag(self, tag, attrs):
        element = [tag, dict(attrs), ""]
        self.elements.append(element)
        if tag not in VOID:
            self.open.append(element)

    def handle_startendtag(self, tag, attrs):
        self.elements.append([tag, dict(attrs), ""])

    def handle_endtag(self, tag):
        found = self.open.pop()
        if found[0] != tag:
            self.unclosed.append((found[0], tag))

    def handle_data(self, data):
        for element in self.open:
            element[2] += data

    def texts(self, tag, kind=None):
        return [
            " ".join(text.split())
            for name, attributes, text in self.elements
            if name == tag and (kind is None or kind in (attributes.get("class") or "").split())
        ]


@pytest.fixture(scope="module")
def html():
    return worksheet_html(sheet())


@pytest.fixture(scope="module")
def read(html):
    return Reader(html)


class TestContent:
    def test_every_row_number_stands_once_and_in_order(self, read):
        assert read.texts("td", "number") == [row.number for row in all_rows()]

    def test_every_element_is_closed_in_turn(self, read):
        assert read.unclosed == []
        assert read.open == []

    def test_every_changed_wire_is_in_the_table_once(self, read):
        marks = [row.mark for row in sheet().changed]
        marks = [" ".join(mark.split()) for mark in marks]
        assert [text for text in read.texts("th") if text in set(marks)] == marks
        assert len(marks) > 15

    def test_every_wire_that_stays_has_one_line(self, read):
        kept = [" ".join(line.split()) for line in sheet().kept]
        assert [text for text in read.texts("td") if text in kept] == kept
        assert len(sheet().kept) > 20

    def test_every_step_has_one_box_and_every_phase_ends_with_one(self, read):
        labels = [a.get("aria-label", "") for tag, a, _ in read.elements if tag == "input"]
        steps = [step for row in all_rows() for step in row.steps]
        assert sorted(label for label in labels if label.startswith("Step ")) == sorted(
            f"Step {step.number} done" for step in steps
        )
        for phase in sheet().phases:
            assert labels.count(f"Phase {phase.letter} complete") == 1

    def test_every_reading_stands_where_it_is_taken_with_a_box(self, read):
        labels = [a.get("aria-label", "") for tag, a, _ in read.elements if tag == "input"]
        for reading in sheet().record:
            assert labels.count(f"Reading {reading.number} right") == 1

    def test_measured_values_have_a_box_with_their_unit(self, read):
        labels = {a.get("aria-label") for tag, a, _ in read.elements if tag == "input"}
        measured = [row for row in all_rows() if row.measure_unit]
        assert measured
        assert {f"Row {row.number} measured" for row in measured} <= labels

    def test_hold_points_have_their_frame_and_sentence(self, read):
        holds = [row for row in all_rows() if row.hold]
        rows = read.texts("tr", "hold")
        assert len(rows) == len(holds) >= 5
        for row, view in zip(rows, holds, strict=True):
            assert view.hold in row
            assert "Do not go on until" in row
            assert "Checked by" in row

    def test_parts_stand_in_the_order_of_the_work(self, read):
        headings = read.texts("h2")
        assert headings == [
            "Wires that change",
            "Faults of the vehicle that this job puts right",
            "To decide before the work: findings in the target",
            "The job",
            "Have ready",
            "Safety for the whole job",
            *(f"{phase.letter} {phase.title} {phase.intro}".strip() for phase in sheet().phases),
            "Wires that stay as they are",
            "Parts and wire list",
            "Record of readings",
            "What this sheet does not cover",
            "Differences found What the vehicle has and this sheet does not. "
            "Stop, decide, then go on.",
            "Sign-off",
        ]

    def test_place_is_said_once_for_all_steps_there(self, read):
        blocks = [block for phase in sheet().phases for block in phase.blocks]
        places = [block.place for block in blocks if block.place]
        assert [text for text in read.texts("span") if text in places] == places

    def test_danger_findings_come_first_and_block(self, html):
        view = evolve(sheet(), findings=tuple(reversed(FINDINGS)))
        rows = Reader(worksheet_html(view)).elements
        wanted = ("danger", "note", "warning")
        assert [a["class"] for tag, a, _ in rows if tag == "tr" and a.get("class") in wanted] == [
            "danger",
            "note",
            "warning",
        ]
        assert "Do not start the work until each danger finding is settled." in html

    def test_no_findings_are_said_in_words(self):
        html = worksheet_html(evolve(sheet(), findings=()))
        assert "None found by the planner." in html
        assert "Do not start the work" not in html

    def test_free_rows_for_differences(self, html):
        part = html[html.index(">Differences found <span") : html.index("Sign-off</h2>")]
        assert part.count("<tr><td></td>") == 3

    def test_last_line_says_when_the_sheet_is_complete(self, read):
        last = read.texts("p")[-1]
        assert last == "Work sheet WS-0042 rev B complete when every box above is ticked."

    def test_sheet_never_claims_that_the_plan_is_certified_or_safe(self, read):
        text = read.texts("body")[0].lower()
        for disclaimer in ("is no certificate", "is no guarantee"):
            text = text.replace(disclaimer, "")
        assert not re.search(r"\bcertif|\bguarantee|is safe\b|approved plan", text)

    def test_a_job_without_steps_is_still_a_sheet(self):
        empty = evolve(
            sheet(),
            summary=(),
            as_found_note="",
            findings=(),
            start_conditions=(),
            tools=(),
            safety=(),
            phases=(),
            changed=(),
            kept=(),
            parts=(),
            parts_notes=(),
            record=(),
            sources=(),
            limits=(),
        )
        assert "complete when every box above is ticked" in worksheet_html(empty)


class TestTypography:
    def test_number_and_unit_stay_together(self, html):
        assert "12.4\u00a0V" in html
        assert "r/\u2060min" in html
        assert not re.search(r"\d r/", html)

    def test_numbers_before_ordinary_words_may_break(self, html):
        assert re.search(r"\d steps", html)

    def test_marks_stay_as_they_are(self, html):
        assert f">{LONG_MARK}<" in html
        assert f">{UNBROKEN_MARK}<" in html


class TestSafety:
    def test_names_with_markup_characters_are_shown_not_obeyed(self, html):
        assert MARKUP not in html
        assert html.count(escape(MARKUP).replace("&quot;", "&#34;").replace("&#x27;", "&#39;")) == 1

    @every_case(
        "hostile",
        [
            '<img src="http://192.0.2.1/x.png">',
            "</style><style>@import url(http://192.0.2.1/x.css)",
            '"><script>alert(1)</script>',
            "{{ 7 * 7 }}{% raw %}",
            "url(file:///etc/hostname)",
        ],
    )
    def test_text_of_a_profile_becomes_text_of_the_page(self, hostile):
        view = evolve(
            sheet(),
            identity=evolve(sheet().identity, vehicle=hostile, title=hostile, sheet_number=hostile),
            intro=hostile,
            limits=(hostile,) * len(sheet().limits),
        )
        read = Reader(worksheet_html(view))
        plain = Reader(worksheet_html(sheet()))
        assert [tag for tag, _, _ in read.elements] == [tag for tag, _, _ in plain.elements]
        assert " ".join(hostile.split()) in read.texts("li")[-1]
        assert read.elements[-1][0] == plain.elements[-1][0]

    def test_language_cannot_leave_its_attribute(self):
        html = worksheet_html(evolve(sheet(), language='en"><script>'))
        assert "<script" not in html

    @every_case("embed", [False, True])
    def test_nothing_is_asked_of_the_outside(self, embed):
        html = worksheet_html(sheet(), embed_fonts=embed)
        assert "<script" not in html
        assert "http:" not in html
        assert "https:" not in html
        addresses = re.findall(r"url\((.{0,20})", html)
        assert len(addresses) == 2
        wanted = "data:font/ttf;base64" if embed else "sheet:"
        assert all(address.startswith(wanted) for address in addresses)


class TestVariants:
    def test_same_view_gives_same_text(self, html):
        assert worksheet_html(sheet()) == html

    def test_paper_decides_the_page_size_only(self, html):
        letter = worksheet_html(sheet(), paper="Letter")
        assert letter.replace("size: Letter", "size: A4") == html

    def test_other_paper_is_named_in_the_error(self):
        with pytest.raises(UnknownPaper, match="found 'A5'; expected A4 or Letter"):
            worksheet_html(sheet(), paper="A5")

    def test_file_for_a_browser_has_wide_boxes_and_a_warning(self):
        html = worksheet_html(sheet(), embed_fonts=True)
        assert "@media screen" in html
        assert "lost when this page is closed" in html
        assert len(html) < 400_000
