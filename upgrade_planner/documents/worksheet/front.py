"""
In which order the first sections of a sheet stand: text may be cut by the end of a page, pictures
may not.

It minimises the paper that stays blank before pictures. The view of where the job is begins on the
first page or the second; what changes follows it. Pictures are let in between sections of text,
or between rows of the wires that change; text keeps its order. Heights of text are known about, so
each way is judged by a little more of it, too.
"""

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from attrs import evolve

from upgrade_planner.attributes import frozen
from upgrade_planner.documents.drawings.pages import PAPERS
from upgrade_planner.documents.worksheet.front_heights import (
    rows_height,
    section_height,
    title_height,
    where_table_height,
)
from upgrade_planner.documents.worksheet.picture_views import (
    CHANGED,
    FRONT_SECTIONS,
    DrawingPageView,
    FrontPart,
    WhereView,
)
from upgrade_planner.documents.worksheet.views import SheetView

_MARGINS = 30.0
"""Above and below the text of a page. [mm]"""
_WHERE_HEADING = 7.5
_TITLE, _KEY = 7.5, 11.0
"""Heading of the first pictures and key to their lines. [mm]"""
_DOUBTS = (1.0, 1.04, 1.08)
"""Heights of text as shares of what they are reckoned."""
_ROWS = 3
"""Rows of the wires that change are parted after so many, or a multiple."""
_LATE, _BRIEF, _PARTED = 1000.0, 40.0, 30.0
"""Blank paper that these count for: a view on a third page, one that names no parts, a table that
is parted. [mm]"""
_KEPT = 24
"""Ways that are followed on from each state."""


def page_room(paper: str) -> float:
    """Height between the margins of a page. [mm]"""
    return PAPERS[paper][1] - _MARGINS


def with_front(
    view: SheetView, wheres: Sequence[WhereView], pages: Sequence[DrawingPageView], paper: str
) -> SheetView:
    """
    The sheet with its pictures.

    Args:
        view: The sheet without them.
        wheres: Views of where the job is, one of which is taken.
        pages: Pictures of what changes.
        paper: `A4` or `Letter`.
    """
    text = [_Piece(part, height) for part, height in _text(view)]
    ways = (
        (_best(text, [*_where(where), *_shelves(pages)], title_height(view), page_room(paper)), n)
        for n, where in enumerate(wheres)
    )
    best, number = min(
        ways, key=lambda way: way[0].blank + (_BRIEF if wheres[way[1]].is_brief else 0)
    )
    wide = (FrontPart(section="page", page=page) for page in pages if page.is_wide)
    return evolve(view, where=wheres[number], front=(*_together(best.parts), *wide))


# What is placed ---------------------------------------------------------------------------------


@frozen
class _Piece:
    """Something on paper; heights in mm, of what no page may end in and of what flows on."""

    part: FrontPart
    flowing: float = 0.0
    whole: float = 0.0


def _text(view: SheetView) -> Iterator[tuple[FrontPart, float]]:
    count = len(view.changed)
    for first, end in pairwise([*range(0, count, _ROWS), count]):
        yield FrontPart(section=CHANGED, rows=(first, end)), rows_height(view, first, end)
    for name in FRONT_SECTIONS:
        if name != CHANGED:
            yield FrontPart(section=name), section_height(view, name)


def _where(where: WhereView) -> Iterator[_Piece]:
    whole = where.height + _WHERE_HEADING
    yield _Piece(FrontPart(section="where"), where_table_height(where), whole)


def _shelves(pages: Iterable[DrawingPageView]) -> Iterator[_Piece]:
    key = ""
    for page in pages:
        for shelf in () if page.is_wide else page.shelves:
            is_first, key = not key, page.key
            height = shelf.height + (_TITLE + _KEY if is_first else 0.0)
            part = FrontPart(section="shelf", shelf=shelf, key=key if is_first else "")
            yield _Piece(part, whole=height)


# Placing ----------------------------------------------------------------------------------------


@frozen(kw_only=True)
class _Way:
    """What stands on paper so far: where it ends for each doubt, and what stayed blank. [mm]"""

    ends: tuple[float, ...]
    """From the top of the first page, as if all pages were one."""
    blank: float = 0.0
    parts: tuple[FrontPart, ...] = ()

    def then(self, piece: _Piece, room: float) -> "_Way":
        """With one more piece below."""
        blank, ends = self.blank, []
        for end, doubt in zip(self.ends, _DOUBTS, strict=True):
            left = room - end % room
            skipped = left if piece.whole > left else 0.0
            blank += skipped / len(_DOUBTS)
            below = end + skipped + piece.whole
            if piece.part.section == "where" and below > 2 * room:
                blank += _LATE
            ends.append(below + piece.flowing * doubt)
        if piece.whole and piece.part.section != "where" and not self._has_where:
            blank += _LATE
        if self._is_parted_by(piece):
            blank += _PARTED
        return _Way(ends=tuple(ends), blank=blank, parts=(*self.parts, piece.part))

    @property
    def _has_where(self) -> bool:
        return any(part.section == "where" for part in self.parts)

    def _is_parted_by(self, piece: _Piece) -> bool:
        """True where rows of a table come on behind something else."""
        first, _ = piece.part.rows
        return first > 0 and self.parts[-1].section != CHANGED


def _best(text: Sequence[_Piece], drawn: Sequence[_Piece], title: float, room: float) -> _Way:
    """The way with the least blank paper; of equals the one with pictures later."""
    start = _Way(ends=tuple(title * doubt for doubt in _DOUBTS))
    reached: dict[tuple[int, int], list[_Way]] = {(0, 0): [start]}
    for read in range(len(text) + 1):
        for seen in range(len(drawn) + 1):
            ways = sorted(reached.pop((read, seen), []), key=lambda way: way.blank)[:_KEPT]
            if (read, seen) == (len(text), len(drawn)):
                return ways[0]
            steps = (
                ((read + 1, seen), text[read : read + 1]),
                ((read, seen + 1), drawn[seen : seen + 1]),
            )
            for at, pieces in steps:
                further = [way.then(piece, room) for way in ways for piece in pieces]
                reached.setdefault(at, []).extend(further)
    raise AssertionError("the last state is always reached")


def _together(parts: Iterable[FrontPart]) -> Iterator[FrontPart]:
    """Rows of a table that follow each other as one."""
    last: FrontPart | None = None
    for part in parts:
        if last is not None and part.section == last.section == CHANGED:
            last = evolve(last, rows=(last.rows[0], part.rows[1]))
            continue
        if last is not None:
            yield last
        last = part
    if last is not None:
        yield last
