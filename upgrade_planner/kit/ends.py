"""Terminals, seals and sleeves of made ends, of connectors passed and of capped wires."""

from collections.abc import Iterable, Iterator
from decimal import Decimal

from upgrade_planner.configuration.model import Component, Connection, Joint, Wire
from upgrade_planner.configuration.values.sizes import WireSize
from upgrade_planner.electrical.heat_balance import outside_diameter_mm
from upgrade_planner.kit.allowances import (
    COMPOUND_ML,
    COMPOUND_POST_ML,
    LENGTH_LOSS,
    SEALS_PER_CAVITY,
    SHRUNK_CAP_M,
    SHRUNK_LARGE_M,
    SHRUNK_SMALL_M,
    SHRUNK_SPLICE_M,
    SLEEVE_STEP_M,
    SMALL_CABLE_MM2,
)
from upgrade_planner.kit.articles import Article, Material, article
from upgrade_planner.kit.diameters import (
    Shrink,
    barrel_outside_mm,
    bundle_diameter_mm,
    shrink_for,
    shrink_sizes,
    splice_outside_mm,
)
from upgrade_planner.kit.prices.money import rounded_up
from upgrade_planner.kit.terminals import barrel_for, splice_barrel_for

DRY_SPACES = ("cabin",)
"""Spaces where no water gets at joints. Source: our assumption."""

_IN_CAVITY = (Joint.CAVITY,)  # a sleeve would not let the terminal lock


def terminal_article(connection: Connection, size: WireSize, joined: Iterable[WireSize]) -> Article:
    """
    The terminal that joins a cable to that hardware.

    Args:
        connection: Joint and its size.
        size: Size of the cable.
        joined: Sizes of all cables of a splice, which one barrel holds together.
    """
    barrel = barrel_for(size)
    match connection.joint:
        case Joint.STUD | Joint.SCREW | Joint.CASE:
            return article("ring terminal", stud=connection.size, barrel=barrel)
        case Joint.BLADE | Joint.CAVITY:
            return article("blade receptacle", blade=connection.size, barrel=barrel)
        case Joint.BULLET:
            return article("bullet", bullet=connection.size, barrel=barrel)
        case Joint.POST:
            return article("battery clamp", post=connection.size, barrel=barrel)
    return article("crimp splice", barrel=splice_barrel_for([*joined] or [size]))


def made_end(wire: Wire, connection: Connection, space: str) -> Iterator[Material]:
    """Terminal, sleeve and compound of one made end that is no splice."""
    yield _each(terminal_article(connection, wire.size, ()), 1, wire.id)
    if connection.joint not in _IN_CAVITY:
        length = SHRUNK_LARGE_M if wire.size.area_mm2 > SMALL_CABLE_MM2 else SHRUNK_SMALL_M
        yield shrink_pieces(end_shrink(wire.size), length, 1, wire.id)
        if space not in DRY_SPACES:
            yield _compound(connection.joint, wire.id)


def splice(sizes: Iterable[WireSize], wire_id: str) -> Iterator[Material]:
    """Barrel and sleeve of one splice, for all its cables."""
    joined = tuple(sizes)
    yield _each(article("crimp splice", barrel=splice_barrel_for(joined)), 1, wire_id)
    yield shrink_pieces(splice_shrink(joined), SHRUNK_SPLICE_M, 1, wire_id)


def connector_passed(wire: Wire, connector: Component, space: str) -> Iterator[Material]:
    """Pin and socket for the cavity that a new wire takes, and its seals where it is wet."""
    blade, barrel = connector.ratings["cavity_blade"], barrel_for(wire.size)
    for half in ("pin", "socket"):
        yield _each(article(f"connector {half}", blade=blade, barrel=barrel), 1, wire.id)
    if space not in DRY_SPACES:
        yield _each(article("cavity seal", size=wire.size.label), SEALS_PER_CAVITY, wire.id)


def caps(wire: Wire) -> Iterator[Material]:
    """Two caps, two tags and two sleeves for a wire that stays dead in its loom."""
    yield _each(article("end cap", barrel=barrel_for(wire.size)), 2, wire.id)
    yield _each(article("tag"), 2, wire.id)
    yield shrink_pieces(end_shrink(wire.size), SHRUNK_CAP_M, 2, wire.id)


def end_shrink(size: WireSize) -> Shrink:
    """Sleeve that is slid over barrel and cable and, shrunk, grips the cable."""
    outside_mm = outside_diameter_mm(size)
    return _shrink(max(barrel_outside_mm(size), outside_mm), outside_mm)


def splice_shrink(sizes: Iterable[WireSize]) -> Shrink:
    """
    Sleeve over a splice: it passes over the cables of one side and grips the thinner side.

    The thickest cable goes in on one side, the others on the other: our assumption.
    """
    joined = tuple(sizes)
    thickest, *others = sorted(joined, reverse=True)
    sides_mm = [outside_diameter_mm(thickest)]
    if others:
        sides_mm.append(bundle_diameter_mm(others))
    return _shrink(max(*sides_mm, splice_outside_mm(joined)), min(sides_mm))


def _shrink(over_mm: float, grips_mm: float) -> Shrink:
    """The fitting sleeve; else the tightest that goes on, whose adhesive must fill the rest."""
    found = shrink_for(over_mm, grips_mm)
    if found is None:
        passing = [one for one in shrink_sizes() if one.supplied_mm >= over_mm]
        found = min(passing or shrink_sizes()[-1:], key=lambda one: one.recovered_mm)
    return found


def shrink_pieces(shrink: Shrink, shrunk_m: Decimal, count: int, what_for: str) -> Material:
    """Pieces of sleeve, longer than wanted by what shrinking takes off their length."""
    piece = rounded_up(shrunk_m / (1 - LENGTH_LOSS), SLEEVE_STEP_M)
    return Material(
        article=article("heat-shrink", bore=shrink.bore),
        quantity=count * piece,
        wires=(what_for,),
        pieces=(piece,) * count,
    )


def _compound(joint: Joint, what_for: str) -> Material:
    amount = COMPOUND_POST_ML if joint is Joint.POST else COMPOUND_ML
    return Material(article=article("compound"), quantity=amount, wires=(what_for,))


def _each(what: Article, count: int, what_for: str) -> Material:
    return Material(article=what, quantity=Decimal(count), wires=(what_for,))
