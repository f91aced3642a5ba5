"""Cable ranges of crimp barrels and their colours."""

from attrs import frozen

from upgrade_planner.configuration.sizes import METRIC, WireSize, gauge_number


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
    for barrel in BARRELS:
        if size.system == METRIC:
            if barrel.area_from_mm2 <= float(size.designation) <= barrel.area_to_mm2:
                area = f"{barrel.area_from_mm2:g}–{barrel.area_to_mm2:g}"
                return f"cable {area}\N{NO-BREAK SPACE}mm² ({barrel.colour})"
            continue
        gauge = gauge_number(size)
        if gauge is not None and barrel.gauge_to <= gauge <= barrel.gauge_from:
            return f"cable {barrel.gauge_from}–{barrel.gauge_to} gauge ({barrel.colour})"
    return f"cable {size.label}, plain barrel"
