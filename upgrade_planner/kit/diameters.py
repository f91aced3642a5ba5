"""Outside diameters of cables, barrels and bundles, and what is bought by them."""

from collections.abc import Iterable
from functools import cache
from math import ceil, pi, sqrt

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.files.own_data import data_rows
from upgrade_planner.configuration.values.barrels import colour_of_barrel
from upgrade_planner.configuration.values.sizes import WireSize
from upgrade_planner.electrical.heat_balance import (
    STRAND_FILL_RATIO,
    conductor_diameter_mm,
    outside_diameter_mm,
)
from upgrade_planner.kit.allowances import (
    BARREL_WALL_MM,
    BORES_MM,
    COLOURED_BARREL_MM,
    PACKING,
    TAPE_OVERLAP,
    TAPE_WIDTH_MM,
)

MM_PER_INCH = 25.4


@frozen(kw_only=True)
class Shrink:
    """
    One size of heat-shrink sleeve with adhesive, which shrinks to a third.

    Attributes:
        bore: As sold, by the nominal supplied bore: `6.4 mm`.
        supplied_mm: Least bore as bought. [mm]
        recovered_mm: Greatest bore when shrunk without anything in it. [mm]
    """

    bore: str
    supplied_mm: float
    recovered_mm: float

    def fits(self, over_mm: float, grips_mm: float) -> bool:
        """True if it passes over `over_mm` and grips `grips_mm`. [mm]"""
        return self.supplied_mm >= over_mm and self.recovered_mm <= grips_mm


@cache
def shrink_sizes() -> tuple[Shrink, ...]:
    """All sizes, thin ones first; from data/shrink_sizes.csv."""
    found = (
        Shrink(
            bore=f"{row['sold_as_mm']} mm",
            supplied_mm=float(row["supplied_in"]) * MM_PER_INCH,
            recovered_mm=float(row["recovered_in"]) * MM_PER_INCH,
        )
        for row in data_rows(__package__, "shrink_sizes.csv")
    )
    return tuple(sorted(found, key=lambda one: one.supplied_mm))


def shrink_for(over_mm: float, grips_mm: float) -> Shrink | None:
    """
    The thinnest sleeve that passes over one diameter and, shrunk, grips another.

    Args:
        over_mm: Widest thing that it must be slid over: barrel, cap or all cables. [mm]
        grips_mm: Thinnest thing that it must seal on: the cable. [mm]

    Returns:
        The sleeve; None if no size of the table does both.
    """
    return next((one for one in shrink_sizes() if one.fits(over_mm, grips_mm)), None)


def barrel_outside_mm(size: WireSize) -> float:
    """
    Outside of the crimp barrel, or of the cap, for a cable. [mm]

    Source:
        `COLOURED_BARREL_MM`; a plain barrel is its copper and twice `BARREL_WALL_MM`.
    """
    colour = colour_of_barrel(size)
    if colour:
        return COLOURED_BARREL_MM[colour]
    return conductor_diameter_mm(size) + 2 * BARREL_WALL_MM


def splice_outside_mm(sizes: Iterable[WireSize]) -> float:
    """
    Outside of the bare barrel that holds the copper of several cables, as if of one. [mm]

    Source:
        Geometry and `BARREL_WALL_MM`.
    """
    total_mm2 = sum(size.area_mm2 for size in sizes)
    return sqrt(4 * total_mm2 / (pi * STRAND_FILL_RATIO)) + 2 * BARREL_WALL_MM


def bundle_diameter_mm(sizes: Iterable[WireSize]) -> float:
    """
    Outside diameter of a bundle of cables. [mm]

    One cable has its own; several fill a circle to `PACKING`, but never less than two side by side.

    Raises:
        ValueError: There is no cable.
    """
    outsides = sorted((outside_diameter_mm(size) for size in sizes), reverse=True)
    if not outsides:
        raise ValueError("a bundle of at least one cable is wanted, found none")
    if len(outsides) == 1:
        return outsides[0]
    packed = sqrt(sum(d * d for d in outsides) / PACKING)
    return max(packed, outsides[0] + outsides[1])


def bore_for(diameter_mm: float) -> str:
    """The least bore of sleeve, grommet or clamp that takes a bundle: `13 mm`."""
    for bore_mm in BORES_MM:
        if bore_mm >= diameter_mm:
            return f"{bore_mm} mm"
    return f"{ceil(diameter_mm / 10) * 10} mm"


def tape_length_m(length_m: float, diameter_mm: float) -> float:
    """
    Tape to wind a loom. [m]

    Each turn goes once round and covers (1 - overlap) of the tape's width along the loom.

    Args:
        length_m: Length of loom. [m]
        diameter_mm: Its diameter. [mm]
    """
    advance_mm = TAPE_WIDTH_MM * (1 - TAPE_OVERLAP)
    return length_m * sqrt((pi * diameter_mm) ** 2 + advance_mm**2) / advance_mm


@cache
def ring_hole_mm(stud: str) -> float | None:
    """Hole of a ring terminal for a stud [mm], from data/ring_holes.csv; None if not listed."""
    rows = data_rows(__package__, "ring_holes.csv")
    return next((float(row["hole_mm"]) for row in rows if row["stud"] == stud), None)
