"""The survey form on paper and on the screen: complete, fillable, whole rows, same bytes."""

import io
import re
from datetime import date
from functools import cache
from itertools import pairwise
from pathlib import Path
from tempfile import TemporaryDirectory

import pypdf
import pytest
from attrs import evolve
from every_case import every_case
from page_layout import Layout, pages_kept, pages_of
from pdf_words import page_text
from places import SMALL_VAN

from upgrade_planner.configuration.loading import load_configuration
from upgrade_planner.documents.survey.form import survey_html, survey_view
from upgrade_planner.documents.words.english import language_for, page_in
from upgrade_planner.inspection.form_lines import FILLED, KINDS
from upgrade_planner.inspection.walk import inspection
from upgrade_planner.jobs.survey import SurveyRequest, survey

NAMES = ["van_original_resistance", "tractor_original"]
FILED = [SMALL_VAN, "tractor_original"]


@cache
def walked(name):
    return inspection(load_configuration(name))


@cache
def html(name, paper="A4", embed_fonts=False):
    view = survey_view(walked(name), "2026-03-01", "both", in_full=True)
    return survey_html(view, paper=paper, embed_fonts=embed_fonts)


@cache
def laid_out(name, paper="A4"):
    if name in FILED and paper == "A4":
        return filed(name)[1]
    return Layout(html(name, paper), pages_on(name, paper))


@cache
def pages_on(name, paper):
    return pages_of(html(name, paper), fillable=True)


@cache
def filed(name):
    """The form in full as a file, and where things lie on it."""
    with TemporaryDirectory() as folder, pages_kept() as pages:
        path = Path(folder) / "form.pdf"
        survey(in_full(name, path))
        laid_out = pages or pages_of(html(name), fillable=True)  # it was at hand already
        return path.read_bytes(), Layout(html(name), laid_out)


def in_full(name, path):
    return SurveyRequest(configuration=name, target=path, issued=date(2026, 3, 1), in_full=True)


@pytest.fixture(scope="module", params=FILED, ids=lambda name: Path(name).stem)
def form(request):
    return walked(request.param), pypdf.PdfReader(io.BytesIO(filed(request.param)[0]))


@pytest.fixture(scope="module")
def pages(form):
    """The words of each page, without white space."""
    return [squeezed(page_text(page)) for page in form[1].pages]


def printed(text, walk):
    """A text in the English of the form, without white space."""
    return squeezed(page_in(text, language_for("", walk.configuration.vehicle)))


def squeezed(text):
    return re.sub(r"[\s\N{WORD JOINER}]+", "", text)


class TestFields:
    def test_every_wire_and_part_has_its_fields(self, form):
        walk, reader = form
        fields = set(reader.get_fields())
        for wire in walk.configuration.wires:
            for column in (
                "from_found",
                "to_found",
                "size_found",
                "colour_found",
                "length_measured",
                "note",
            ):
                assert f"wire:{wire.id}:{column}" in fields
            for word in ("yes", "no", "elsewhere"):
                assert f"wire:{wire.id}:present:{word}" in fields
        for part in walk.configuration.components:
            assert f"part:{part.role}:present:yes" in fields
            assert f"part:{part.role}:marked" in fields

    def test_every_measurement_has_a_box_and_no_other_line_has(self, form):
        walk, reader = form
        boxes = {name for name in reader.get_fields() if name.endswith(":measured")}
        assert boxes == {f"{found.kind}:{found.id}:measured" for found in walk.measurements}

    def test_names_are_of_known_lines_and_columns(self, form):
        _, reader = form
        for name in reader.get_fields():
            kind, _, rest = name.partition(":")
            if kind not in ("head", "sign"):
                assert kind in KINDS
                assert rest.split(":")[1] in FILLED

    def test_no_name_stands_twice(self, form):
        _, reader = form
        names = [
            annotation.get_object()["/T"]
            for page in reader.pages
            for annotation in page.get("/Annots", ())
        ]
        assert len(names) == len(set(names))
        assert len(names) == len(reader.get_fields())

    def test_every_field_says_what_it_is_for(self, form):
        _, reader = form
        for name, field in reader.get_fields().items():
            kind, item, *_ = name.split(":")
            if kind in ("wire", "part", "stranger"):
                assert field["/TU"].startswith(item)
            assert field["/TU"].strip()

    def test_ticks_are_drawn_as_the_file_has_them(self, form):
        _, reader = form
        assert reader.trailer["/Root"]["/AcroForm"]["/NeedAppearances"].value is False
        ticks = [f for f in reader.get_fields().values() if f["/FT"] == "/Btn"]
        assert ticks
        assert all("/on" in field["/_States_"] for field in ticks)

    def test_boxes_are_tall_enough_for_a_pencil(self, form):
        _, reader = form
        for page in reader.pages:
            for annotation in page.get("/Annots", ()):
                field = annotation.get_object()
                low, high = sorted(float(field["/Rect"][n]) for n in (1, 3))
                least = 5.0 if field["/FT"] == "/Btn" else 6.9  # inside its lines
                assert (high - low) / 72 * 25.4 >= least

    def test_first_and_far_end_fill_the_column_of_that_end(self):
        # horn: from the button to the horn; the horn is met first, so its first end is `to`
        item = re.search(
            r'<p class="id">horn</p><p class="caption">horn.*?far end.*?<input[^>]*>',
            html("van_original_resistance"),
            re.DOTALL,
        )
        names = re.findall(r'name="(wire:horn:\w+_found)"', item[0])
        assert names == ["wire:horn:to_found", "wire:horn:from_found"]


class TestContent:
    def test_every_wire_and_part_is_printed(self, form, pages):
        walk, text = form[0], "".join(pages)
        for wire in walk.configuration.wires:
            assert squeezed(wire.id) in text
        for part in walk.configuration.components:
            assert printed(part.name, walk) in text
        for sign in walk.signs:
            assert printed(sign.look, walk) in text

    def test_every_page_can_be_traced(self, form, pages):
        for number, text in enumerate(pages, 1):
            assert f"SF-{form[0].configuration.digest[:4].upper()}" in text
            assert f"Page{number}of{len(pages)}" in text

    def test_cautions_stand_before_the_first_place(self, form, pages):
        walk, text = form[0], "".join(pages)
        last = text.index("Anohmmeteronalivecircuit")
        assert last < text.index(squeezed(f"1 {walk.stops[0].place.name}"))

    def test_places_come_in_walking_order(self, form, pages):
        walk, text = form[0], "".join(pages)
        at = [
            text.index(printed(f"{number} {stop.place.name}", walk) + "Partshere")
            for number, stop in enumerate(walk.stops, 1)
        ]
        assert at == sorted(at)

    def test_expected_range_stands_beside_the_box(self):
        assert "1.2 to 1.5\N{NO-BREAK SPACE}Ω" in html("van_original_resistance")
        assert "at most 0.1\N{NO-BREAK SPACE}Ω" in html("van_original_resistance")

    def test_hostile_profile_text_is_only_text(self):
        van = walked("tractor_original")
        vehicle = evolve(van.configuration.vehicle, owner="<script>alert(1)</script>")
        view = survey_view(
            evolve(van, configuration=evolve(van.configuration, vehicle=vehicle)),
            "2026-03-01",
            "metric",
        )
        assert "<script" not in survey_html(view)


class TestLayout:
    @pytest.mark.parametrize(("name", "paper"), [(NAMES[0], "A4"), (NAMES[1], "Letter")])
    def test_no_line_is_cut_or_clipped_and_no_heading_left_alone(self, name, paper):
        layout = laid_out(name, paper)
        assert layout.overflowing == []
        heads = [element for element in layout.places if element.tag == "thead"]
        repeated = {inner for head in heads for inner in head.iter()}
        items = [
            (element, numbers)
            for element, numbers in layout.places.items()
            if {"item", "also", "panel", "words"} & set((element.get("class") or "").split())
            or (element.tag in ("h2", "h3", "tr", "li") and element not in repeated)
        ]
        for element, numbers in items:
            assert len(numbers) == 1, f"cut: {' '.join(element.itertext())[:60]}"
        for (element, numbers), (_, following) in pairwise(items):
            if element.tag in ("h2", "h3"):
                assert max(numbers) == min(following), "".join(element.itertext())

    @every_case("name", NAMES)
    def test_no_page_is_nearly_empty(self, name):
        assert all(count >= 7 for count in laid_out(name).lines[:-1])


class TestFiles:
    @every_case("suffix", ["html", "csv"])
    def test_same_input_same_bytes(self, tmp_path, suffix):
        contents = []
        for name in ("one", "two"):
            path = tmp_path / f"{name}.{suffix}"
            survey(in_full("tractor_original", path))
            contents.append(path.read_bytes())
        assert contents[0] == contents[1]

    def test_same_input_same_pdf(self, tmp_path, request):
        one, two = tmp_path / "one.pdf", tmp_path / "two.pdf"
        survey(evolve(in_full("tractor_original", one), in_full=False))
        request.getfixturevalue("engine")
        survey(evolve(in_full("tractor_original", two), in_full=False))
        assert one.read_bytes() == two.read_bytes()

    def test_title_and_code_of_the_form(self, form):
        walk, reader = form
        digest = walk.configuration.digest
        assert reader.metadata.title.startswith("Survey form: ")
        words = reader.metadata["/Keywords"].split()
        vehicle = walk.configuration.vehicle.name
        assert words == ["survey", "form", "code", digest[:4], digest[4:8], "of", vehicle]
        assert reader.trailer["/Root"]["/MarkInfo"]["/Marked"]

    def test_html_stands_alone(self):
        text = html("tractor_original", embed_fonts=True)
        assert "sheet:" not in text
        assert not re.search(r'(?:src|href)="?http', text)
        assert "@media screen" in text

    def test_letter_paper(self):
        sizes = {
            (page.width / 96, page.height / 96) for page in pages_on("tractor_original", "Letter")
        }
        assert sizes == {(8.5, 11)}


class TestShortForm:
    """What is printed unless every question is asked for."""

    PAGES = 8

    def test_it_asks_for_every_wire_and_part_on_few_pages(self, tmp_path):
        path = tmp_path / "short.pdf"
        survey(SurveyRequest(configuration=NAMES[0], target=path, issued=date(2026, 3, 1)))
        reader = pypdf.PdfReader(path)
        fields = set(reader.get_fields())
        walk = walked(NAMES[0])
        assert len(reader.pages) <= self.PAGES
        assert {f"wire:{w.id}:present:elsewhere" for w in walk.configuration.wires} <= fields
        assert {f"part:{p.role}:present:no" for p in walk.configuration.components} <= fields
        boxes = {f"{found.kind}:{found.id}:measured" for found in walk.measurements}
        assert boxes == {name for name in fields if name.endswith(":measured")}
        assert {"added:added-1:marked", "stranger:stranger-4:note"} <= fields
        assert not any(":condition:" in name for name in fields)
        assert {f"wire:{w.id}:condition" for w in walk.configuration.wires} <= fields
