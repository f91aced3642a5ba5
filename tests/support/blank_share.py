"""How much of each page of a PDF is blank, in cells of 5 mm between its margins."""

import subprocess
import tempfile
from pathlib import Path

DOTS_PER_INCH = 50
CELL_MM = 5
MARGINS_MM = (17, 10, 19, 20)
"""Top, right, bottom, left: what the running heads and feet take, and the holes."""
INK = 200
"""Darker than this is ink, of 255."""


def blank_shares(path):
    """The share of blank cells of each page; needs `pdftoppm` (package poppler-utils)."""
    return [_blank(page) for page in _pages(Path(path))]


def _pages(path):
    with tempfile.TemporaryDirectory() as place:
        command = ["pdftoppm", "-r", str(DOTS_PER_INCH), "-gray", str(path), f"{place}/page"]
        subprocess.run(command, check=True)
        for file in sorted(Path(place).iterdir()):
            yield _picture(file.read_bytes())


def _picture(content):
    """Rows of grey values of a PGM file."""
    _, width, height, _, *_ = content.split(maxsplit=4)
    width, height = int(width), int(height)
    grey = content[-width * height :]
    return [grey[row * width : (row + 1) * width] for row in range(height)]


def _blank(picture):
    per_mm = DOTS_PER_INCH / 25.4
    top, right, bottom, left = (round(margin * per_mm) for margin in MARGINS_MM)
    cell = round(CELL_MM * per_mm)
    rows = range(top, len(picture) - bottom - cell + 1, cell)
    columns = range(left, len(picture[0]) - right - cell + 1, cell)
    cells = [
        min(min(line[at : at + cell]) for line in picture[row : row + cell]) >= INK
        for row in rows
        for at in columns
    ]
    return sum(cells) / len(cells)
