"""
The words of a PDF of ours, as the engine writes them; what reads any PDF takes ten times longer.

Runs of text begin a line where the height changes, and stand apart where there is room for it.
"""

import re
from functools import lru_cache

from pypdf import PdfReader

PARTS = re.compile(rb"/(\S+) ([\d.]+) Tf|(?:\S+ ){4}(\S+) (\S+) Tm|\[([^\]]*)\] ?TJ|/(\S+) Do")
GLYPHS = re.compile(rb"<([0-9a-f]*)>|(-?[\d.]+)")
MEANING = re.compile(r"<([0-9a-f]{4})> <([0-9a-f]+)>")

OPENED = 20
"""Fonts that are kept, each with its PDF."""

GAP_RATIO = 0.1
"""Of the height of the letters: more room than that between two runs is a space."""


def page_texts(path):
    """The text of each page of a file."""
    return [page_text(page) for page in PdfReader(path).pages]


def page_text(page):
    """The text of one page of an opened PDF."""
    return "".join(
        _written(page.get_contents().get_data(), page["/Resources"], [0.0, 0.0])
    ).lstrip()


def _written(stream, resources, at):
    """Pieces of text in their order; `at` is where the last one ended."""
    letters = widths = x = y = None
    size = 1.0
    for font, height, right, down, shown, other in PARTS.findall(stream):
        if font:
            letters, widths = _font(resources["/Font"].raw_get(f"/{font.decode()}"))
            size = float(height)
        elif right:
            x, y = float(right), float(down)
            if y != at[1]:
                yield "\n"
            elif abs(x - at[0]) > size * GAP_RATIO:
                yield " "
            at[1] = y
        elif other:
            inner = resources["/XObject"][f"/{other.decode()}"]
            if inner["/Subtype"] == "/Form":
                yield from _written(inner.get_data(), inner["/Resources"], at)
        else:
            for codes, back in GLYPHS.findall(shown):
                if back:
                    x -= float(back) * size / 1000
                for code in re.findall("....", codes.decode()):
                    x += widths.get(int(code, 16), 1000.0) * size / 1000
                    yield letters[code]
            at[0] = x


def _font(reference):
    return _read_font(reference.pdf, reference.idnum)


@lru_cache(OPENED)
def _read_font(reader, number):
    """What each code of a font means, and its width in thousandths."""
    font = reader.get_object(number)
    meaning = font["/ToUnicode"].get_data().decode()
    letters = {
        code: bytes.fromhex(letter).decode("utf-16-be") for code, letter in MEANING.findall(meaning)
    }
    widths, waiting = {}, None
    for item in font["/DescendantFonts"][0].get_object()["/W"]:
        if isinstance(item, list):
            widths.update(enumerate(map(float, item), waiting))
        else:
            waiting = int(item)
    return letters, widths
