"""
What may stand in for an article, and what may never.

Never: a smaller cable, a cooler insulation, another fuse value, another stud, blade or post. A
fusible link is never replaced: its size is its rating.
"""

from collections.abc import Mapping
from decimal import Decimal

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
