"""How much room lettering takes: widths from the shipped faces themselves, never estimated."""

import math
import struct
from collections.abc import Iterator, Mapping, Sequence
from functools import cache

from upgrade_planner.documents.shared.html import font_file

MM_PER_POINT = 25.4 / 72
SMALL = 7.0
"""Terminals, sizes, colours, flags: the least that is read in poor light. [pt]"""
NAME = 7.5
"""Names of wires, studs and small parts. [pt]"""
LARGE = 8.0
"""Names of parts that are boxes. [pt]"""
GRID = 0.5
"""Everything that a wire may meet lies on multiples of this. [mm]"""
CAPITAL = 0.72
"""Height of capitals as a share of the size of the type."""

_MISSING = 0.6
"""Width of a character that the face does not have, in its own size."""


def height_of(points: float) -> float:
    """Height of capital letters. [mm]"""
    return points * MM_PER_POINT * CAPITAL


@cache
def width_of(text: str, points: float = SMALL, *, bold: bool = False) -> float:
    """
    Width of one line of text. [mm]

    Args:
        text: What is written.
        points: Size of the type. [pt]
        bold: True for the bold face.
    """
    advances = _advances("bold" if bold else "regular")
    ems = sum(advances.get(ord(character), _MISSING) for character in text)
    return ems * points * MM_PER_POINT


def widest(lines: Sequence[str], points: float = SMALL, *, bold: bool = False) -> float:
    """Width of the widest of some lines; 0 if there are none. [mm]"""
    return max((width_of(line, points, bold=bold) for line in lines), default=0.0)


def tag_width(word: str) -> float:
    """Width of a word in capitals, white on black; 0 if there is none. [mm]"""
    return width_of(word, SMALL, bold=True) + 1.4 if word else 0.0


def on_grid(length_mm: float) -> float:
    """The next length on the grid, upwards. [mm]"""
    return math.ceil(length_mm / GRID - 1e-9) * GRID


def nearest_grid(length_mm: float) -> float:
    """The nearest length on the grid. [mm]"""
    return round(length_mm / GRID) * GRID


def wrapped(
    text: str, width_mm: float, points: float = SMALL, *, bold: bool = False, at: str = " "
) -> tuple[str, ...]:
    """
    Text in lines no wider than asked for, as far as its words let it; a long one ends at a hyphen.

    Args:
        text: What is written.
        width_mm: Room. [mm]
        points: Size of the type. [pt]
        bold: True for the bold face.
        at: Where a line may end; a hyphen stays at its end.

    Example:
        >>> wrapped("main-feed-link", 11.0, at="-")
        ('main-', 'feed-link')
        >>> wrapped("Capacitor-discharge unit", 18.0)
        ('Capacitor-', 'discharge unit')
    """
    tail = "" if at == " " else at
    lines: list[str] = []
    current = ""
    for word in text.split(at):
        longer = f"{current}{at}{word}" if current else word
        if at == " " and "-" in word and width_of(word, points, bold=bold) > width_mm:
            *full, last = wrapped(word, width_mm, points, bold=bold, at="-")
            lines += [*([current] if current else ()), *full]
            current = last
        elif current and width_of(longer, points, bold=bold) > width_mm:
            lines.append(current + tail)
            current = word
        else:
            current = longer
    return (*lines, current)


@cache
def _advances(face: str) -> Mapping[int, float]:
    """Advance width of each character, in ems; tables head, hhea, hmtx and cmap of the face."""
    content = font_file(face).read_bytes()
    tables = _tables(content)
    (ems,) = struct.unpack_from(">H", content, tables["head"] + 18)
    (count,) = struct.unpack_from(">H", content, tables["hhea"] + 34)
    metrics = struct.unpack_from(f">{2 * count}H", content, tables["hmtx"])[::2]
    return {
        character: metrics[min(glyph, count - 1)] / ems
        for character, glyph in _glyphs(content, tables["cmap"])
    }


def _tables(content: bytes) -> dict[str, int]:
    """Where each table of a TrueType file begins."""
    (count,) = struct.unpack_from(">H", content, 4)
    entries = (struct.unpack_from(">4sLLL", content, 12 + 16 * n) for n in range(count))
    return {tag.decode("ascii"): offset for tag, _, offset, _ in entries}


def _glyphs(content: bytes, cmap: int) -> Iterator[tuple[int, int]]:
    """Character and glyph of the Unicode sub-table of format 4."""
    (count,) = struct.unpack_from(">H", content, cmap + 2)
    for number in range(count):
        _, _, offset = struct.unpack_from(">HHL", content, cmap + 4 + 8 * number)
        if struct.unpack_from(">H", content, cmap + offset) == (4,):
            yield from _segments(content, cmap + offset)
            return


def _segments(content: bytes, table: int) -> Iterator[tuple[int, int]]:
    """ISO/IEC 14496-22, cmap format 4: ranges of characters, each with a shift or an index."""
    (twice,) = struct.unpack_from(">H", content, table + 6)
    shape = f">{twice // 2}H"
    ends = struct.unpack_from(shape, content, table + 14)
    starts = struct.unpack_from(shape, content, table + 16 + twice)
    shifts = struct.unpack_from(shape, content, table + 16 + 2 * twice)
    at = table + 16 + 3 * twice
    offsets = struct.unpack_from(shape, content, at)
    for n, (start, end) in enumerate(zip(starts, ends, strict=True)):
        for character in range(start, min(end, 0xFFFE) + 1):
            if offsets[n] == 0:
                yield character, (character + shifts[n]) % 0x10000
            else:
                place = at + 2 * n + offsets[n] + 2 * (character - start)
                (glyph,) = struct.unpack_from(">H", content, place)
                yield character, (glyph + shifts[n]) % 0x10000 if glyph else 0
