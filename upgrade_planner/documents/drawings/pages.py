"""
The pictures of a job on pages: as large as they come, as few pages as they need.

A picture that no page holds is drawn again with less air; if that does not do, its topic is told in
two. Pictures stand on shelves; each page lies the way in which it takes more of them.
"""

from collections.abc import Iterable, Iterator, Sequence
from functools import partial

from attrs import evolve

from upgrade_planner.attributes import frozen
from upgrade_planner.documents.drawings.labels import Lettering
from upgrade_planner.documents.drawings.picture import Effort, Picture, picture_of
from upgrade_planner.documents.drawings.selection import scene_of
from upgrade_planner.documents.drawings.topics import Topic, numbered, told_in_two, topics_of
from upgrade_planner.documents.drawings.union import Union

HEADING = 6.5
"""Height of the heading of a picture. [mm]"""
MOST_LINES = 22
"""A picture with more conductors is told in two at once: it would be hard to read if it fitted."""
GUTTER = 4.0
"""Free room between pictures. [mm]"""
_FEW = 12
"""So many pictures are tried on pages in every way; of more, each page is filled by itself."""


@frozen(kw_only=True)
class Format:
    """Room for pictures on a page: inside its margins, heading and key to the lines. [mm]"""

    width: float
    height: float
    is_wide: bool

    def holds(self, size: tuple[float, float]) -> bool:
        """True if a picture of that width and height fits with its heading."""
        width, height = size
        return width <= self.width and height + HEADING <= self.height


_MARGINS = (30.0, 36.0)
"""Left and right, above and below."""
_HEAD_AND_KEY = 21.0
PAPERS = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
"""Width and height of a sheet. [mm]"""


def formats(paper: str) -> tuple[Format, Format]:
    """The room on an upright and on a wide page; an unknown paper is a KeyError."""
    short, long = PAPERS[paper]
    upright, wide = (
        Format(
            width=width - _MARGINS[0],
            height=height - _MARGINS[1] - _HEAD_AND_KEY,
            is_wide=width > height,
        )
        for width, height in ((short, long), (long, short))
    )
    return upright, wide


Column = tuple[Picture, ...]
"""Pictures below one another."""

Shelf = tuple[Column, ...]
"""Columns side by side."""


@frozen(kw_only=True, eq=False)
class Page:
    """Pictures on one page, shelf by shelf."""

    form: Format
    shelves: tuple[Shelf, ...]

    @property
    def pictures(self) -> tuple[Picture, ...]:
        """All of them."""
        return _all_of(self.shelves)


def _all_of(shelves: Iterable[Shelf]) -> tuple[Picture, ...]:
    return tuple(picture for shelf in shelves for column in shelf for picture in column)


def change_pictures(
    union: Union, forms: Sequence[Format], lettering: Lettering, effort: Effort
) -> tuple[Picture, ...]:
    """
    What changes, in pictures that fit one of the formats; each changed conductor in one.

    Args:
        union: Both configurations.
        forms: Room for a picture.
        lettering: What decides the words of labels.
        effort: How long the best layout is looked for.
    """
    drawn = [
        pair
        for topic in topics_of(union)
        for pair in _drawn(union, topic, forms, lettering, effort)
    ]
    titles = [topic.title for topic in numbered(topic for topic, _ in drawn)]
    return tuple(
        evolve(picture, title=title) for (_, picture), title in zip(drawn, titles, strict=True)
    )


def _drawn(
    union: Union,
    topic: Topic,
    forms: Sequence[Format],
    lettering: Lettering,
    effort: Effort,
) -> Iterator[tuple[Topic, Picture]]:
    scene = scene_of(union, topic)
    smaller = told_in_two(union, topic) if len(scene.lines) > MOST_LINES else ()
    if len(smaller) < 2:
        picture = picture_of(scene, lettering=lettering, fits=partial(_fits, forms), effort=effort)
        if _fits(forms, (picture.width, picture.height)):
            yield topic, picture
            return
        smaller = told_in_two(union, topic)
        if len(smaller) < 2:
            yield topic, picture
            return
    for part in smaller:
        yield from _drawn(union, part, forms, lettering, effort)


def _fits(forms: Sequence[Format], size: tuple[float, float]) -> bool:
    return any(form.holds(size) for form in forms)


def paged(
    pictures: Sequence[Picture], forms: Sequence[Format], *, keeps_order: bool = False
) -> tuple[Page, ...]:
    """
    Pictures on as few pages as it takes.

    The next picture is always on the next page; later ones come forward where that saves a page,
    or in their order alone. One that is too large has a page of its own.
    """
    return _Packing(forms, keeps_order=keeps_order).fewest(tuple(pictures))


class _Packing:
    """Tries what could stand on each page; what is left is packed once, however it came about."""

    def __init__(self, forms: Sequence[Format], *, keeps_order: bool) -> None:
        self._forms = forms
        self._keeps_order = keeps_order
        self._known: dict[tuple[Picture, ...], tuple[Page, ...]] = {(): ()}

    def fewest(self, rest: tuple[Picture, ...]) -> tuple[Page, ...]:
        """The fewest pages; of as few those that are fuller first."""
        if rest not in self._known:
            firsts = sorted(self._firsts(rest), key=lambda page: -_gain(page.shelves))
            tried = [
                (page, *self.fewest(tuple(one for one in rest if one not in page.pictures)))
                for page in (firsts if len(rest) <= _FEW else firsts[:1])
            ]
            self._known[rest] = min(tried, key=len)
        return self._known[rest]

    def _firsts(self, rest: tuple[Picture, ...]) -> Iterator[Page]:
        """What the next page could hold, each content once."""
        first = rest[0]
        size = first.width, first.height
        if not _fits(self._forms, size):
            form = self._forms[int(first.width > first.height)]
            yield Page(form=form, shelves=(((first,),),))
        seen: set[frozenset[Picture]] = set()
        for ordered in [rest] if self._keeps_order else _orders(rest):
            for form in self._forms:
                if form.holds(size):
                    page = Page(form=form, shelves=_shelved(ordered, form))
                    content = frozenset(page.pictures)
                    if content not in seen:
                        seen.add(content)
                        yield page


def _orders(rest: Sequence[Picture]) -> Iterator[Sequence[Picture]]:
    """In their order, and with each one beside the first, then the tallest."""
    yield rest
    tallest = sorted(rest[1:], key=lambda one: -one.height)
    yield rest[0], *tallest
    for second in tallest[1:]:
        yield rest[0], second, *(one for one in tallest if one is not second)


def _gain(shelves: Sequence[Shelf]) -> float:
    """Paper that is used."""
    return sum(picture.width * picture.height for picture in _all_of(shelves))


def shelved(pictures: Sequence[Picture], form: Format) -> tuple[Shelf, ...]:
    """
    Pictures on shelves that are as low together as may be, whatever page they come on.

    Each fits the format by itself; the next picture is always on the next shelf.
    """
    known: dict[tuple[Picture, ...], tuple[Shelf, ...]] = {(): ()}

    def lowest(rest: tuple[Picture, ...]) -> tuple[Shelf, ...]:
        if rest not in known:
            orders = _orders(rest) if len(rest) <= _FEW else [rest]
            firsts = {
                shelf: None for order in orders if (shelf := _shelf(order, form, form.height))
            }
            tried = (
                (shelf, *lowest(tuple(one for one in rest if one not in _all_of([shelf]))))
                for shelf in firsts
            )
            known[rest] = min(tried, key=lambda shelves: sum(map(height_of_shelf, shelves)))
        return known[rest]

    return lowest(tuple(pictures))


def height_of_shelf(shelf: Shelf) -> float:
    """Height with headings and the room below. [mm]"""
    return max(map(height_of_column, shelf)) + GUTTER


def _shelved(pictures: Sequence[Picture], form: Format) -> tuple[Shelf, ...]:
    """As many as one page takes."""
    rest, used = list(pictures), 0.0
    shelves: list[Shelf] = []
    while rest:
        shelf = _shelf(rest, form, form.height - used)
        if not shelf:
            break
        shelves.append(shelf)
        used += height_of_shelf(shelf)
        taken = {id(picture) for picture in _all_of([shelf])}
        rest = [picture for picture in rest if id(picture) not in taken]
    return tuple(shelves)


def _shelf(pictures: Sequence[Picture], form: Format, room: float) -> Shelf:
    """Columns side by side; below a short picture others stand that are no wider."""
    columns: list[list[Picture]] = []
    for picture in pictures:
        below = next((c for c in columns if _goes_below(picture, c, columns)), None)
        used = sum(column[0].width + GUTTER for column in columns)
        if below is not None:
            below.append(picture)
        elif used + picture.width <= form.width and height_of_column([picture]) <= room:
            columns.append([picture])
    return tuple(tuple(column) for column in columns)


def _goes_below(
    picture: Picture, column: Sequence[Picture], columns: Sequence[Sequence[Picture]]
) -> bool:
    tallest = max(height_of_column(other) for other in columns)
    return picture.width <= column[0].width and height_of_column([*column, picture]) <= tallest


def height_of_column(column: Sequence[Picture]) -> float:
    """Height of pictures below one another, with their headings. [mm]"""
    return sum(picture.height + HEADING for picture in column) + GUTTER * (len(column) - 1)
