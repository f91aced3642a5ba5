"""Terminals, seals and sleeves of made ends, of connectors passed and of capped wires."""

from collections.abc import Iterable, Iterator, Sequence
from decimal import Decimal

from upgrade_planner.configuration.end_fittings import (
    EndFitting,
    Fastening,
    on_block,
    thickest_first,
)
from upgrade_planner.configuration.model import Component, Connection, Joint, Wire
from upgrade_planner.configuration.values.barrels import (
    barrel_for,
    plain_barrel_for,
    shared_barrel_for,
    splice_barrel_for,
)
from upgrade_planner.configuration.values.sizes import METRIC, SAE, WireSize
from upgrade_planner.electrical.heat_balance import outside_diameter_mm
from upgrade_planner.kit.allowances import (
    BLOCK_CABLE_M,
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
from upgrade_planner.kit.cable import cable_article
from upgrade_planner.kit.diameters import (
    Shrink,
    barrel_outside_mm,
    bundle_diameter_mm,
    shrink_for,
    shrink_sizes,
    splice_outside_mm,
)
from upgrade_planner.kit.prices.money import rounded_up

DRY_SPACES = ("cabin",)
"""Spaces where no water gets at joints. Source: our assumption."""


_BOLT = {METRIC: "M8", SAE: "5/16 in"}
"""Bolt of a battery clamp by the vehicle's sizes. Source: our assumption, common clamps."""

SPLICE = "crimp splice"
"""The article that holds the cables of a splice."""


def fitting_article(fitting: EndFitting, connection: Connection, size_system: str) -> Article:
    """
    The article that fastens wires to a terminal of that hardware.

    Args:
        fitting: What is made, with its wires.
        connection: Joint and its size.
        size_system: In which the vehicle's bolts are.
    """
    sizes = [wire.size for wire in fitting.wires]
    barrel = _barrel(sizes)
    match fitting.fastening:
        case Fastening.RING:
            return article("ring terminal", stud=connection.size, barrel=barrel)
        case Fastening.BOLT_RING:
            bolt = _BOLT.get(size_system, _BOLT[SAE])
            return article("ring terminal", stud=bolt, barrel=barrel)
        case Fastening.RECEPTACLE | Fastening.CONTACT:
            return article("blade receptacle", blade=connection.size, barrel=barrel)
        case Fastening.BULLET:
            return article("bullet", bullet=connection.size, barrel=barrel)
        case Fastening.CLAMP:
            plain = plain_barrel_for(sizes[0])
            return article("battery clamp", post=connection.size, barrel=plain)
    return article(SPLICE, barrel=splice_barrel_for(sizes))


def _barrel(sizes: Sequence[WireSize]) -> str:
    if len(sizes) == 1:
        return barrel_for(sizes[0])
    return shared_barrel_for(sizes) or splice_barrel_for(sizes)


def made_fitting(
    fitting: EndFitting, connection: Connection, space: str, size_system: str
) -> Iterator[Material]:
    """Terminal, sleeve and compound of one fitting that is made."""
    wires = tuple(sorted(wire.id for wire in fitting.wires))
    sizes = [wire.size for wire in fitting.wires]
    yield _each(fitting_article(fitting, connection, size_system), 1, *wires)
    if fitting.fastening is Fastening.BARREL:
        yield shrink_pieces(splice_shrink(sizes), SHRUNK_SPLICE_M, 1, *wires)
    elif fitting.fastening is not Fastening.CONTACT:  # a sleeve would not let it lock
        length = SHRUNK_LARGE_M if sizes[0].area_mm2 > SMALL_CABLE_MM2 else SHRUNK_SMALL_M
        yield shrink_pieces(_fitting_shrink(sizes), length, 1, *wires)
        if space not in DRY_SPACES:
            yield _compound(fitting.fastening, *wires)


def repair_splice(wire: Wire) -> Iterator[Material]:
    """Barrel and sleeve that join a wire to itself where a repair is cut out."""
    both = (wire.size, wire.size)
    yield _each(article("crimp splice", barrel=splice_barrel_for(both)), 1, wire.id)
    yield shrink_pieces(splice_shrink(both), SHRUNK_SPLICE_M, 1, wire.id)


def _fitting_shrink(sizes: Sequence[WireSize]) -> Shrink:
    if len(sizes) == 1:
        return end_shrink(sizes[0])
    bundle_mm = bundle_diameter_mm(sizes)
    return _shrink(max(splice_outside_mm(sizes), bundle_mm), bundle_mm)


def adapters(connection: Connection, count: int, wires: tuple[str, ...]) -> Iterator[Material]:
    """What makes room on a terminal that takes one fitting only."""
    if count:
        name = "double-blade adapter" if connection.joint is Joint.BLADE else "bullet sleeve"
        trait = "blade" if connection.joint is Joint.BLADE else "bullet"
        yield _each(article(name, **{trait: connection.size}), count, *wires)


def distribution_block(
    connection: Connection, fittings: Sequence[EndFitting], space: str
) -> Iterator[Material]:
    """Block for the rings that a stud has no room for, and the short cable that joins it."""
    others = on_block(connection, fittings)
    if not others:
        return
    names = tuple(sorted(wire.id for fitting in others for wire in fitting.wires))
    thickest = thickest_first(wire for fitting in fittings for wire in fitting.wires)[0]
    ring = article("ring terminal", stud=connection.size, barrel=barrel_for(thickest.size))
    yield _each(article("distribution block", stud=connection.size), 1, *names)
    yield Material(
        article=cable_article(thickest),
        quantity=BLOCK_CABLE_M,
        wires=names,
        pieces=(BLOCK_CABLE_M,),
    )
    yield _each(ring, 2, *names)
    yield shrink_pieces(end_shrink(thickest.size), SHRUNK_LARGE_M, 2, *names)
    if space not in DRY_SPACES:
        yield _compound(Fastening.RING, *names)


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


def shrink_pieces(shrink: Shrink, shrunk_m: Decimal, count: int, *what_for: str) -> Material:
    """Pieces of sleeve, longer than wanted by what shrinking takes off their length."""
    piece = rounded_up(shrunk_m / (1 - LENGTH_LOSS), SLEEVE_STEP_M)
    return Material(
        article=article("heat-shrink", bore=shrink.bore),
        quantity=count * piece,
        wires=what_for,
        pieces=(piece,) * count,
    )


def _compound(fastening: Fastening, *what_for: str) -> Material:
    amount = COMPOUND_POST_ML if fastening is Fastening.CLAMP else COMPOUND_ML
    return Material(article=article("compound"), quantity=amount, wires=what_for)


def _each(what: Article, count: int, *what_for: str) -> Material:
    return Material(article=what, quantity=Decimal(count), wires=what_for)
