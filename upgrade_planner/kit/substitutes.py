"""
What may stand in for an article, and what may never.

Never: a smaller cable, a cooler insulation, another fuse value, another stud, blade or post; a
colour that tells a wire for another. A fusible link is never replaced: its size is its rating.
"""

from collections.abc import Mapping
from decimal import Decimal

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.values.colours import GREEN_AND_YELLOW
from upgrade_planner.configuration.values.insulation import parse_insulation
from upgrade_planner.configuration.values.sizes import parse_wire_size

MOST_LARGER = 2.0
"""Copper of a larger cable to that wanted. Source: our assumption; more fits no joint."""

LEAST_SHRINK = Decimal(3)
"""The kit reckons with sleeves of 3:1 (`ends`), so the cable in one may be a third of its bore."""

LINK_INSULATION = "LINK"

Traits = Mapping[str, str]
_MAY_DIFFER = {
    "cable": {"size", "insulation", "colour"},
    "resistance wire": {"colour"},
    "heat-shrink": {"bore"},
    "part": {"name"},
}


def objection(sort: str, wanted: Traits, offered: Traits, ratio: Decimal | None = None) -> str:
    """
    Why one article may not stand in for another; "" if it may.

    Args:
        sort: Of both.
        wanted: Traits of the needed one, in the spelling of `trait_texts`; "" means any.
        offered: Traits of the other.
        ratio: How far the offered heat-shrink shrinks; None if not known.
    """
    for trait, value in wanted.items():
        other = offered[trait]
        if not value or not other or value == other:
            continue
        if trait not in _MAY_DIFFER.get(sort, ()):
            return f"another {trait}: {other} for {value}"
        reason = _differs(trait, value, other, ratio)
        if reason:
            return reason
    return ""


def _differs(trait: str, value: str, other: str, ratio: Decimal | None) -> str:
    match trait:
        case "size":
            return _size_objection(value, other)
        case "insulation":
            return _insulation_objection(value, other)
        case "bore":
            return _bore_objection(bore_mm(value), bore_mm(other), ratio)
    return ""


def _size_objection(value: str, other: str) -> str:
    wanted, offered = parse_wire_size(value).area_mm2, parse_wire_size(other).area_mm2
    if offered < wanted:
        return f"a smaller cable: {other} for {value}"
    return f"a cable far too large: {other} for {value}" if offered > MOST_LARGER * wanted else ""


def _insulation_objection(value: str, other: str) -> str:
    wanted, offered = parse_insulation(value), parse_insulation(other)
    if LINK_INSULATION in (value, other):
        return f"another insulation: {other} for {value}"
    is_cooler = offered.rated_c < wanted.rated_c
    return f"a cooler insulation: {other} for {value}" if is_cooler else ""


def bore_mm(text: str) -> Decimal:
    """The figure of a bore such as `6.4 mm`."""
    return Decimal(text.split(" ", 1)[0])


def _bore_objection(wanted: Decimal, offered: Decimal, ratio: Decimal | None) -> str:
    if offered < wanted:
        return f"a narrower sleeve: {offered} for {wanted} mm"
    if ratio is None or offered / ratio > wanted / LEAST_SHRINK:
        return f"a sleeve that does not surely shrink to fit: {offered} for {wanted} mm"
    return ""


@frozen(kw_only=True)
class ColourRule:
    """
    Which other colours the wires of an article may not have.

    Attributes:
        grounds: Main colours of the ground wires of the vehicles, as they are and as they shall be.
        keeps_main: Whether the main colour itself says what the wire is.
    """

    grounds: frozenset[str] = frozenset()
    keeps_main: bool = False

    def __or__(self, other: "ColourRule") -> "ColourRule":
        """What both bar."""
        return ColourRule(
            grounds=self.grounds | other.grounds, keeps_main=self.keeps_main or other.keeps_main
        )

    def bars(self, wanted: str, offered: str) -> bool:
        """
        Whether a tag is not enough for the colour.

        Red and black would be taken for the two poles of the battery, green-and-yellow for a
        protective conductor, the colour of the grounds for a ground. Source: our assumption.
        """
        if not offered or wanted == offered:
            return False
        mains = {wanted.split("/", 1)[0], offered.split("/", 1)[0]}
        if mains == {"RD", "BK"} or offered == GREEN_AND_YELLOW:
            return True
        is_other = len(mains) > 1
        return is_other and (self.keeps_main or offered.split("/", 1)[0] in self.grounds)
