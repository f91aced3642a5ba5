"""
The signs of parts, in the manner of IEC 60617 and IEEE 315; shapes of our own.

An upright sign stands between two terminals, its live one above, in a column 9 mm high; a small
sign stands in the box of a part with more terminals.
"""

from collections.abc import Callable, Iterator

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.kinds import Capability, Family
from upgrade_planner.configuration.model import Component
from upgrade_planner.documents.drawings.lettering import SMALL
from upgrade_planner.documents.drawings.marks import (
    INK,
    PAPER,
    Box,
    Disc,
    Mark,
    Stroke,
    Text,
    line,
)

HALF = 4.5
"""Half the height of an upright sign. [mm]"""
REACH = 4.2
"""Half the width of the widest upright sign. [mm]"""


@frozen
class Spot:
    """Where a sign stands: its middle, and the pen of the part's outline."""

    x: float
    y: float
    width: float
    dashes: str = ""

    @property
    def fine(self) -> float:
        """A pen for signs inside a box."""
        return max(0.4, self.width * 0.6)


Sign = Callable[[Spot], Iterator[Mark]]


# Upright signs ----------------------------------------------------------------------------------


def _case(spot: Spot, half_width: float, fill: str = PAPER) -> Mark:
    return Box(
        x=spot.x - half_width,
        y=spot.y - HALF,
        width=2 * half_width,
        height=2 * HALF,
        line=spot.width,
        fill=fill,
        dashes=spot.dashes,
    )


def _fuse(spot: Spot) -> Iterator[Mark]:
    yield _case(spot, 1.9)
    yield line(((spot.x, spot.y - HALF), (spot.x, spot.y + HALF)), 0.35)


def _breaker(spot: Spot) -> Iterator[Mark]:
    yield _case(spot, 1.9)
    yield line(((spot.x, spot.y - HALF), (spot.x, spot.y - 1.5)), 0.4)
    yield line(((spot.x - 1.4, spot.y - 1.5), (spot.x, spot.y + 1.8)), 0.6)
    yield line(((spot.x, spot.y + 1.8), (spot.x, spot.y + HALF)), 0.4)


def _resistor(spot: Spot) -> Iterator[Mark]:
    yield _case(spot, 1.9)


def _coil(spot: Spot) -> Iterator[Mark]:
    yield _case(spot, 2.4, PAPER if spot.dashes else INK)


def _lamp(spot: Spot) -> Iterator[Mark]:
    yield _round(spot)
    reach = REACH * 0.707
    for side in (-1, 1):
        yield line(
            (
                (spot.x - side * reach, spot.y - reach),
                (spot.x + side * reach, spot.y + reach),
            ),
            0.4,
        )


def _round(spot: Spot) -> Mark:
    return Disc(x=spot.x, y=spot.y, radius=REACH, line=spot.width, dashes=spot.dashes)


def plain_sign(spot: Spot) -> Iterator[Mark]:
    """A load, and whatever has no sign of its own."""
    yield Box(x=spot.x - 4, y=spot.y - 4, width=8, height=8, line=spot.width, dashes=spot.dashes)


def _lettered(letter: str) -> Sign:
    def sign(spot: Spot) -> Iterator[Mark]:
        yield _round(spot)
        yield Text(x=spot.x, y=spot.y + 1.5, text=letter, points=11, bold=True, anchor="middle")

    return sign


def _diode(spot: Spot) -> Iterator[Mark]:
    yield line(((spot.x, spot.y - HALF), (spot.x, spot.y + HALF)), 0.4)
    yield Stroke(
        points=((spot.x - 2.4, spot.y - 2), (spot.x + 2.4, spot.y - 2), (spot.x, spot.y + 2)),
        width=spot.fine,
        dashes=spot.dashes,
        fill=PAPER,
        closed=True,
    )
    yield line(((spot.x - 2.4, spot.y + 2), (spot.x + 2.4, spot.y + 2)), 0.8)


def _condenser(spot: Spot) -> Iterator[Mark]:
    for way in (-1, 1):
        yield line(((spot.x, spot.y + way * HALF), (spot.x, spot.y + way * 0.8)), 0.4)
        yield line(
            ((spot.x - 2.6, spot.y + way * 0.8), (spot.x + 2.6, spot.y + way * 0.8)),
            max(0.8, spot.width),
        )


def _cell(spot: Spot) -> Iterator[Mark]:
    yield line(((spot.x, spot.y - HALF), (spot.x, spot.y - 2.4)), 0.4)
    for number, half in enumerate((4, 2, 4, 2)):
        y = spot.y - 2.4 + number * 1.6
        yield line(
            ((spot.x - half, y), (spot.x + half, y)), 0.5 if half == 4 else max(1.2, spot.width)
        )
    yield line(((spot.x, spot.y + 2.4), (spot.x, spot.y + HALF)), 0.4)


def _blade(spot: Spot) -> Iterator[Mark]:
    """A contact that opens: switch, points."""
    upper, lower = spot.y - 2.9, spot.y + 3.3
    yield line(((spot.x, spot.y - HALF), (spot.x, upper)), 0.4)
    yield line(((spot.x, lower), (spot.x, spot.y + HALF)), 0.4)
    yield line(((spot.x, lower), (spot.x - 3.2, upper + 0.2)), max(0.6, spot.width), dashes="")
    for y in (upper, lower):
        yield Disc(x=spot.x, y=y, radius=0.7)


_UPRIGHT: dict[Family, Sign] = {
    Family.BATTERY: _cell,
    Family.PROTECTION: _fuse,
    Family.RESISTOR: _resistor,
    Family.COIL: _coil,
    Family.LAMP: _lamp,
    Family.LOAD: plain_sign,
    Family.DIODE: _diode,
    Family.CONDENSER: _condenser,
    Family.SWITCH: _blade,
    Family.POINTS: _blade,
    Family.AMMETER: _lettered("A"),
    Family.VOLTMETER: _lettered("V"),
    Family.MOTOR: _lettered("M"),
    Family.GAUGE: _lettered("P"),
    Family.SENDER: _lettered("B"),
}


def upright_sign(part: Component) -> Sign | None:
    """The sign of a part with a terminal above and one below; None if it has none."""
    if part.can(Capability.RESETS):
        return _breaker
    return _UPRIGHT.get(part.family)


# Small signs in boxes ---------------------------------------------------------------------------


def _machine(letter: str, below: str) -> Sign:
    def sign(spot: Spot) -> Iterator[Mark]:
        yield Disc(x=spot.x, y=spot.y, radius=4.4, line=spot.fine)
        y = spot.y + (0.6 if below else 1.5)
        yield Text(x=spot.x, y=y, text=letter, points=10, bold=True, anchor="middle")
        if below:
            yield Text(x=spot.x, y=spot.y + 3.2, text=below, points=SMALL, anchor="middle")

    return sign


def _coil_and_contact(spot: Spot) -> Iterator[Mark]:
    x, y = spot.x, spot.y
    yield Box(x=x - 3.8, y=y - 1.6, width=4, height=3.2, line=0.4)
    yield line(((x - 2.6, y + 1.6), (x - 1, y - 1.6)), 0.35)
    yield line(((x + 0.2, y), (x + 2.2, y)), 0.3, dashes="0.6 0.5")
    yield line(((x + 3, y + 3.6), (x + 3, y + 2), (x + 1.6, y - 2)), 0.45)
    yield line(((x + 3, y - 3.6), (x + 3, y - 2)), 0.45)


def _selector(spot: Spot) -> Iterator[Mark]:
    x, y = spot.x, spot.y
    yield line(((x, y - 4), (x, y - 2)), 0.45)
    yield line(((x, y - 2), (x - 2.6, y + 2.4)), 0.7)
    for way in (-3.4, 0.0, 3.4):
        yield Disc(x=x + way, y=y + 3, radius=0.6)


def _rotor(spot: Spot) -> Iterator[Mark]:
    yield Disc(x=spot.x, y=spot.y, radius=4.2)
    for across, down in ((0.0, -3.1), (3.1, 0.0), (0.0, 3.1), (-3.1, 0.0)):
        yield Disc(x=spot.x + across, y=spot.y + down, radius=0.5, line=0.3, fill=INK)
    yield line(((spot.x, spot.y), (spot.x + 1.6, spot.y - 1.8)), 0.7)


def _contact(spot: Spot) -> Iterator[Mark]:
    x, y = spot.x, spot.y
    yield line(((x, y - 4), (x, y - 2.6)), 0.4)
    yield line(((x, y + 2.6), (x, y + 4)), 0.4)
    yield line(((x, y + 2.6), (x - 2.6, y - 2.2)), 0.6)
    for way in (-2.6, 2.6):
        yield Disc(x=x, y=y + way, radius=0.7)


def _block(spot: Spot) -> Iterator[Mark]:
    yield Box(x=spot.x - 3, y=spot.y - 2, width=6, height=4, line=0.4)


def _small_fuse(spot: Spot) -> Iterator[Mark]:
    yield Box(x=spot.x - 1.4, y=spot.y - 3, width=2.8, height=6, line=0.4)
    yield line(((spot.x, spot.y - 4.5), (spot.x, spot.y + 4.5)), 0.35)


def _windings(spot: Spot) -> Iterator[Mark]:
    for way in (-2.2, 2.2):
        yield Box(x=spot.x + way - 1.2, y=spot.y - 3, width=2.4, height=6, line=0.4, fill=INK)


_SMALL: dict[Family, Sign] = {
    Family.ALTERNATOR: _machine("G", "3~"),
    Family.DYNAMO: _machine("G", "="),
    Family.STARTER: _machine("M", ""),
    Family.MOTOR: _machine("M", ""),
    Family.RELAY: _coil_and_contact,
    Family.STARTER_RELAY: _coil_and_contact,
    Family.CUT_OUT: _coil_and_contact,
    Family.REGULATOR: _block,
    Family.SWITCH: _selector,
    Family.POINTS: _contact,
    Family.PROTECTION: _small_fuse,
    Family.COIL: _windings,
    Family.COIL_PACK: _windings,
}


def small_sign(part: Component) -> Sign | None:
    """The sign in the box of a part; None if its name says enough."""
    if part.can(Capability.DISTRIBUTES) and part.family is not Family.POINTS:
        return _rotor
    return _SMALL.get(part.family)
