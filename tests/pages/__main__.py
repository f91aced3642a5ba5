"""
How much of each page is blank: `python -m tests.pages FILE.pdf …`.

A page is laid out in cells of 5 mm between its margins; a cell without ink is blank. Needs
`pdftoppm` (package poppler-utils). Prints each page, the mean, and the lowest ink of the last page.
"""

import subprocess
import sys
import tempfile
from pathlib import Path

DOTS_PER_INCH = 50
CELL_MM = 5
MARGINS_MM = (17, 10, 19, 20)
"""Top, right, bottom, left: what the running heads and feet take, and the holes."""
INK = 200
"""Darker than this is ink, of 255."""


def main() -> int:
    """Prints the table; 2 without files."""
    if len(sys.argv) < 2:
        print(__doc__)
        return 2
    for name in sys.argv[1:]:
        shares = [_blank(page) for page in _pages(Path(name))]
        listed = " ".join(f"{share:.0%}" for share in shares)
        print(f"{name}: {len(shares)} pages, {sum(shares) / len(shares):.0%} blank: {listed}")
    return 0


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


if __name__ == "__main__":
    sys.exit(main())
