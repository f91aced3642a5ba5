"""Cable ranges of crimp barrels and their colours."""

from collections.abc import Iterable, Sequence

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.values.sizes import METRIC, WireSize, gauge_number


@frozen
class Barrel:
    """One crimp barrel of the insulated family: colour and cable range."""

    colour: str
    gauge_from: int
    gauge_to: int
    area_from_mm2: float
    area_to_mm2: float


# Source: terminal maker table, colours of insulated terminals: red 22-16 AWG (0.5-1.5 mm²), blue
# 16-14 (1.5-2.5), yellow 12-10 (4-6). Where two ranges meet, the cable
# is given the smaller barrel, whose crimp grips it tighter (16 and 1.5 mm² are red).
BARRELS = (
    Barrel("red", 22, 16, 0.5, 1.5),
    Barrel("blue", 16, 14, 1.5, 2.5),
    Barrel("yellow", 12, 10, 4.0, 6.0),
)


def barrel_for(size: WireSize) -> str:
    """
    Cable range of the barrel for a cable, in words.

    Cables outside the colour-coded ranges take a plain barrel made for just that size.
    """
    barrel = _coded_barrel(size)
    return plain_barrel_for(size) if barrel is None else _range_words(barrel, size)


def _range_words(barrel: Barrel, size: WireSize) -> str:
    if size.system == METRIC:
        return f"cable {_area_words(barrel)}\N{NO-BREAK SPACE}mm² ({barrel.colour})"
    return f"cable {barrel.gauge_from}–{barrel.gauge_to} gauge ({barrel.colour})"


def plain_barrel_for(size: WireSize) -> str:
    """The same for fittings that are made with plain barrels alone, such as battery clamps."""
    return f"cable {size.label}, plain barrel"


def shared_barrel_for(sizes: Sequence[WireSize]) -> str | None:
    """
    Coded barrel that takes several cables together, in words; None if none does.

    Between 2.5 and 4 mm² in all the larger one, whose crimp is filled by folding the ends back.

    Source: several wires in one barrel within its range, ABYC E-11 as quoted by a marine
    electrician.
    """
    total_mm2 = sum(size.area_mm2 for size in sizes)
    for barrel in BARRELS:
        if total_mm2 <= barrel.area_to_mm2:
            return _range_words(barrel, sizes[0])
    return None


def colour_of_barrel(size: WireSize) -> str:
    """Colour of the terminal for a cable; "" if it takes a plain barrel."""
    barrel = _coded_barrel(size)
    return barrel.colour if barrel else ""


def _coded_barrel(size: WireSize) -> Barrel | None:
    for barrel in BARRELS:
        if size.system == METRIC:
            if barrel.area_from_mm2 <= float(size.designation) <= barrel.area_to_mm2:
                return barrel
            continue
        gauge = gauge_number(size)
        if gauge is not None and barrel.gauge_to <= gauge <= barrel.gauge_from:
            return barrel
    return None


def _area_words(barrel: Barrel) -> str:
    return f"{barrel.area_from_mm2:g}–{barrel.area_to_mm2:g}"


SPLICE_BARRELS_MM2 = (10.0, 16.0, 25.0, 35.0, 50.0, 70.0, 95.0, 120.0, 150.0, 185.0, 240.0)
"""Plain barrels above the coded ones, by the copper they hold. [mm²] Source: IEC 60228 sizes."""


def splice_barrel_for(sizes: Iterable[WireSize]) -> str:
    """
    Bare barrel of a splice that holds several cables, by their copper in all.

    Up to 6 mm² in the ranges of the coded terminals; between 2.5 and 4 mm² the larger is taken. The
    barrel has no collar: a sleeve with adhesive covers it. Source: common practice, a barrel for
    the sum of the areas.
    """
    total_mm2 = sum(size.area_mm2 for size in sizes)
    for barrel in BARRELS:
        if total_mm2 <= barrel.area_to_mm2:
            return f"{_area_words(barrel)} mm² in all"
    for limit_mm2 in SPLICE_BARRELS_MM2:
        if total_mm2 <= limit_mm2:
            return f"up to {limit_mm2:g} mm² in all"
    return f"{total_mm2:.0f} mm² in all"
