"""Trait texts of articles in one spelling, so that a price list and a plan mean the same thing."""

import re
from collections.abc import Callable, Mapping
from functools import cache

from upgrade_planner.configuration.model import Joint
from upgrade_planner.configuration.registry import kinds
from upgrade_planner.configuration.structuring.connections import SIZES
from upgrade_planner.configuration.values.barrels import BARRELS, SPLICE_BARRELS_MM2
from upgrade_planner.configuration.values.colours import parse_colour
from upgrade_planner.configuration.values.insulation import parse_insulation
from upgrade_planner.configuration.values.notation import (
    NotationError,
    nearest_words,
    shown_scalar,
)
from upgrade_planner.configuration.values.sizes import parse_wire_size
from upgrade_planner.kit.fitted_parts import STYLES

_DASHES = str.maketrans({"–": "-", "—": "-", "−": "-", "\N{NO-BREAK SPACE}": " "})
_TIGHT = re.compile(r"(?<=\d)(?=[a-zµΩ])", re.IGNORECASE)
_NUMBER = r"\d+(?:\.\d+)?"
_COMMA = re.compile(r"(?<=\d),(?=\d)")
_BARREL_COLOUR = re.compile(r"^cable | ?\((?:red|blue|yellow)\)$")
_PLAIN_BARREL = ", plain barrel"
_LARGE_SPLICE = re.compile(rf"{_NUMBER} mm² in all")
_BORE = re.compile(rf"{_NUMBER} mm")
_AMPERES = re.compile(rf"{_NUMBER} a")
_OHMS = re.compile(rf"{_NUMBER}(?: ohm)?")


@cache
def canonical(sort: str, trait: str, text: str) -> str:
    """
    The value in the spelling that articles are compared in; "" stays "".

    Raises:
        NotationError: There is no such size, colour, stud … .

    Example:
        >>> canonical("cable", "size", "4mm2"), canonical("fuse", "rating", "15A")
        ('4 mm²', '15 a')
    """
    plain = _plain(text)
    reader = _READERS.get((sort, trait)) or _READERS.get(("", trait))
    return reader(plain) if reader and plain else _folded(plain)


@cache
def comparable(sort: str, trait: str, text: str) -> str:
    """The same for a needed article; a value of no known spelling is compared as it stands."""
    try:
        return canonical(sort, trait, text)
    except NotationError:
        return _folded(_plain(text))


def _plain(text: str) -> str:
    """One spelling of dashes and spaces; no trait has thousands, so a comma is a decimal one."""
    return _COMMA.sub(".", " ".join(text.translate(_DASHES).split()))


def _folded(text: str) -> str:
    """Small letters; ohms spelt out, for many a spreadsheet has no sign for them."""
    return _TIGHT.sub(" ", text.casefold()).replace("ω", "ohm")


def _size(text: str) -> str:
    size = parse_wire_size(text)
    return f"{size.designation} {size.system}"


def _insulation(text: str) -> str:
    return parse_insulation(text).name


def _colour(text: str) -> str:
    """`RD/WH`, also with its words behind it."""
    code = text.split(" ", 1)[0]
    return parse_colour(code if code.isupper() else text).code


def _of_joint(joint: Joint) -> Callable[[str], str]:
    choices = {_folded(size): size for size in SIZES[joint]}

    def reader(text: str) -> str:
        if _folded(text) not in choices:
            raise NotationError(shown_scalar(text), f"one of: {', '.join(SIZES[joint])}")
        return choices[_folded(text)]

    return reader


def _formed(pattern: re.Pattern[str], wanted: str) -> Callable[[str], str]:
    def reader(text: str) -> str:
        if not pattern.fullmatch(_folded(text)):
            raise NotationError(shown_scalar(text), wanted)
        return _folded(text)

    return reader


def _barrel(text: str) -> str:
    """Cable range of a barrel; its colour follows from that and may be left out."""
    barrel = _BARREL_COLOUR.sub("", _folded(text)).replace("mm2", "mm²")
    size, plain, _ = barrel.partition(_PLAIN_BARREL)
    if plain:
        return f"{_size(size).casefold()}{_PLAIN_BARREL}"
    if barrel in _barrels() or _LARGE_SPLICE.fullmatch(barrel):
        return barrel
    raise NotationError(
        shown_scalar(text),
        f"cable of a barrel: {', '.join(_barrels())}",
        nearest_words(barrel, _barrels()),
    )


@cache
def _barrels() -> tuple[str, ...]:
    ranges = [
        words
        for one in BARRELS
        for area in [f"{one.area_from_mm2:g}-{one.area_to_mm2:g} mm²"]
        for words in (f"{one.gauge_from}-{one.gauge_to} gauge", area, f"{area} in all")
    ]
    return (*ranges, *(f"up to {area:g} mm² in all" for area in SPLICE_BARRELS_MM2))


def _style(text: str) -> str:
    """Style of a fuse or its holder."""
    style = _folded(text)
    if style not in STYLES:
        raise NotationError(
            shown_scalar(text), f"a style: {', '.join(STYLES)}", nearest_words(style, STYLES)
        )
    return style


def _kind(text: str) -> str:
    """The id of a component kind; its words mean the same."""
    by_words = {kind.words.casefold(): key for key, kind in kinds().items()}
    key = text.casefold().replace(" ", "_")
    found = key if key in kinds() else by_words.get(text.casefold())
    if found is None:
        near = nearest_words(key, kinds())
        raise NotationError(shown_scalar(text), f"a kind of component: {', '.join(kinds())}", near)
    return found


_READERS: Mapping[tuple[str, str], Callable[[str], str]] = {
    ("", "size"): _size,
    ("", "insulation"): _insulation,
    ("", "colour"): _colour,
    ("", "stud"): _of_joint(Joint.STUD),
    ("", "blade"): _of_joint(Joint.BLADE),
    ("", "bullet"): _of_joint(Joint.BULLET),
    ("", "post"): _of_joint(Joint.POST),
    ("", "barrel"): _barrel,
    ("", "bore"): _formed(_BORE, "a bore in mm, such as 6.4 mm"),
    ("", "ohms"): _formed(_OHMS, "a resistance in ohm, such as 1.35"),
    ("", "cavities"): _formed(re.compile(r"\d+"), "a whole number of cavities"),
    ("", "style"): _style,
    ("fuse", "rating"): _formed(_AMPERES, "a fuse rating, such as 15 A"),
    ("", "kind"): _kind,
}
