"""Our pages are well formed, so that the quick way of reading them is the way that is taken."""

from xml.etree.ElementTree import tostring

import pytest
from in_process import run
from short_sheet import pdf_of, short, short_html
from tinyhtml5 import parse

from upgrade_planner.documents.shared import own_page, pdf
from upgrade_planner.documents.shared.well_formed import page_tree

PAIR = ("tractor_original", "tractor_upgraded")
PAPERS = (
    ("worksheet", *PAIR, "--reasons", "--record-page", "--all-wires"),
    ("worksheet", *PAIR, "--way-back", "--no-drawings"),
    (
        "worksheet",
        "tractor_original",
        "tractor_trigger_module",
        "tractor_upgraded",
        "--no-drawings",
    ),
    ("kit", *PAIR),
    ("quote", *PAIR),
    ("quote", *PAIR, "--internal", "internal.pdf"),
    ("survey", "tractor_original"),
    ("survey", "tractor_original", "--all"),
    ("drawings", *PAIR),
    ("drawings", "tractor_upgraded"),
)


@pytest.mark.parametrize("arguments", PAPERS, ids=" ".join)
def test_every_paper_is_read_as_the_engine_would_read_it(monkeypatch, tmp_path, arguments):
    pages = []
    monkeypatch.setattr(pdf, "worksheet_pdf", lambda html, **_: pages.append(html) or b"%PDF")
    done = run(*arguments, "-o", "paper.pdf", cwd=tmp_path)
    assert done.returncode in (0, 1), done.stderr
    assert pages
    for html in pages:
        found = page_tree(html)
        assert found is not None
        assert told(found) == told(parse(html, namespace_html_elements=False))


def told(root):
    """Every element with its attributes and texts; space between parts of a table is nothing."""
    for element in root.iter():
        element.text, element.tail = (
            (words or "").strip() for words in (element.text, element.tail)
        )
    return tostring(root)


def test_page_that_is_not_well_formed_is_left_to_the_engine():
    html = short_html()
    assert page_tree(html.replace("</h1>", "\x08</h1>", 1)) is None
    assert page_tree(html.replace("</h1>", "", 1)) is None


def test_both_ways_make_the_same_paper(monkeypatch):
    quick = short()
    monkeypatch.setattr(own_page, "page_tree", lambda _: None)
    assert pdf_of(short_html()) == quick
