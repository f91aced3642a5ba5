"""Where the elements of a document come to lie on paper, and what is wrong with it."""

from contextlib import contextmanager

import pytest
from pair_facts import printed_once

from upgrade_planner.documents.shared.engine import pdf_engine
from upgrade_planner.documents.shared.own_page import own_page
from upgrade_planner.documents.shared.pdf import _without_collection, fonts_only


def boxes(box):
    """A box and all boxes inside it."""
    yield box
    for child in getattr(box, "children", ()):
        yield from boxes(child)


def pages_of(html, *, fillable=False):
    """The pages as the program has them laid out, by its own quick way from HTML to them."""
    pdf_engine()
    with _without_collection():
        return own_page(html, fonts_only()).render(pdf_forms=fillable).pages


def words_on(page):
    """All words of a page, in their order; a word that is broken has a space there."""
    found = (box.text for box in boxes(page._page_box) if type(box).__name__ == "TextBox")
    return " ".join(" ".join(found).split())


class Layout:
    """Where the elements of a sheet came to lie."""

    def __init__(self, html, pages=None):
        self.places = {}
        self.lines = []
        self.filled = []
        """Of each page, how much of its height is used."""
        self.overflowing = []
        for number, page in enumerate(pages or pages_of(html)):
            count, lowest = 0, 0.0
            for box in boxes(page._page_box):
                kind = type(box).__name__
                if box.element is None or kind == "MarginBox":
                    continue
                count += kind == "LineBox"
                if kind in ("LineBox", "InlineReplacedBox", "BlockReplacedBox"):
                    lowest = max(lowest, box.position_y + box.height)
                self.places.setdefault(box.element, set()).add(number)
                self.watch(box, kind)
            self.lines.append(count)
            self.filled.append((lowest - page._page_box.content_box_y()) / page._page_box.height)

    def pages_with(self, name):
        """Pages, from 0, on which an element of a class lies."""
        return sorted(
            {
                page
                for element, numbers in self.places.items()
                if name in (element.get("class") or "").split()
                for page in numbers
            }
        )

    def watch(self, box, kind):
        if kind == "TableCellBox":
            limit = box.position_x + box.border_width() + 0.5
            for inner in boxes(box):
                is_word = type(inner).__name__ == "TextBox"
                if is_word and inner.position_x + inner.width > limit:
                    self.overflowing.append(inner.text)


@contextmanager
def pages_kept():
    """The pages that are laid out meanwhile; none, if a PDF is at hand that was made before."""
    import weasyprint

    laid_out, render = [], weasyprint.HTML.render

    def rendered(*arguments, **options):
        document = render(*arguments, **options)
        laid_out.extend(document.pages)
        return document

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(weasyprint.HTML, "render", rendered)
        yield laid_out


def printed_and_laid_out(html, **settings):
    """A PDF, and where its elements lie: the engine lays out once for both."""
    with pages_kept() as pages:
        content = printed_once(html, **settings)
    return content, Layout(html, pages)


KEEP_WITH_NEXT = {"h2", "h3", "lead", "place", "open", "state"}


def pieces(layout):
    """What must stay whole, in order: headings, paragraphs, panels, rows; each with its words."""
    inside = set()
    for element in layout.places:
        names = {element.tag.rpartition("}")[2], *(element.get("class") or "").split()}
        if element.tag == "thead":
            inside.update(element.iter())
        if element in inside or not names & {"h2", "h3", "p", "li", "tr", "panel", "part", "svg"}:
            continue
        inside.update(element.iter())
        yield element, names, " ".join(" ".join(element.itertext()).split())[:60]


def faults_of(html, layout=None):
    """Everything about page breaks that a person with the sheet in hand would curse."""
    layout = layout or Layout(html)
    faults = [f"clipped: {words}" for words in layout.overflowing]
    of_phases = {e for top in layout.places if top.get("class") == "phase" for e in top}
    page, waiting = 0, ""
    for element, names, words in pieces(layout):
        numbers = layout.places[element]
        if len(numbers) > 1:
            faults.append(f"cut: {words}")
        if waiting and min(numbers) != page:
            faults.append(f"left alone: {waiting}")
        if names & {"complete", "terminal"} and min(numbers) != page:
            faults.append(f"left alone: {words}")
        keeps = names & KEEP_WITH_NEXT or (element in of_phases and "panel" in names)
        page, waiting = max(numbers), words if keeps else ""
    faults += [
        f"page {number} has {count} lines"
        for number, count in enumerate(layout.lines[:-1], start=1)
        if count < 6 and layout.filled[number - 1] < 0.5
    ]
    return faults
