"""Lines of text in pictures, drawn whole."""

import io
import re

import pytest
from pypdf import PdfReader
from short_sheet import pdf_of, short_html

from upgrade_planner.documents.drawings.lettering import width_of
from upgrade_planner.documents.drawings.marks import Text
from upgrade_planner.documents.drawings.svg import inline_svg
from upgrade_planner.documents.shared.picture_text import BEFORE_X, HEARD

WORDS = "AVATAR of 14 SAE"
MM = 72 / 25.4


def marks():
    for y, anchor in enumerate(BEFORE_X, start=1):
        yield Text(x=50, y=10 * y, text=f"{anchor} {WORDS}", anchor=anchor, bold=y == 2)


@pytest.fixture(scope="module")
def drawn():
    """Texts of the picture, with where they begin from the left edge of the picture. [mm]"""
    picture = inline_svg(marks(), 100, 40, "three lines")
    pages = PdfReader(io.BytesIO(pdf_of(short_html().replace("</h1>", f"</h1>{picture}", 1)))).pages
    found = {}

    def seen(text, matrix, text_matrix, *_):
        if WORDS in text:
            scale, left = matrix[0], matrix[4]
            found[text.split()[0]] = (left + text_matrix[4] * scale) / MM

    for page in pages:
        page.extract_text(visitor_text=seen)
    return found


def test_lines_are_read_whole(drawn):
    assert drawn.keys() == BEFORE_X.keys()


def test_lines_lie_before_their_anchor(drawn):
    for mark in marks():
        width = width_of(mark.text, mark.points, bold=mark.bold)
        off = drawn["start"] - drawn[mark.anchor]
        assert off == pytest.approx(BEFORE_X[mark.anchor] * width, abs=0.03 * width)


def test_pictures_ask_for_nothing_that_is_not_heeded():
    texts = [*marks(), Text(x=1, y=2, text="a", colour="#fff", bold=True, anchor="end")]
    written = inline_svg(texts, 100, 40, "lines")
    for element in re.findall(r"<text\b[^>]*>", written):
        assert set(re.findall(r"([\w-]+)=", element)) <= HEARD
