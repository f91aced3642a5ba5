"""
What holds wire ends at a terminal, and how many of them it takes.

A terminal's hardware says what its ends are fitted with: rings on a stud, one clamp on a battery
post with rings under its bolt, one receptacle on a blade. `data/capacities.toml` has the figures.
"""

from collections.abc import Iterable, Sequence
from enum import StrEnum
from functools import cache

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.files.own_data import data_table
from upgrade_planner.configuration.model import Connection, Joint, Wire
from upgrade_planner.configuration.values.barrels import shared_barrel_for
from upgrade_planner.configuration.values.sizes import METRIC, WireSize, gauge_number

HEAVY_GAUGE = 8
"""Cables of this gauge and thicker are heavy. Source: wiring practices manual for transport
aircraft, 2021, 20-30-00 para 2 D."""

HEAVY_MM2 = 8.37
"""The same by copper, 8 AWG. [mm²]"""


class Fastening(StrEnum):
    """What is on the end of a wire."""

    CLAMP = "clamp"
    BOLT_RING = "ring under the clamp bolt"
    RING = "ring"
    RECEPTACLE = "receptacle"
    BULLET = "bullet"
    CONTACT = "contact"
    BARREL = "barrel"


_BY_JOINT = {
    Joint.STUD: Fastening.RING,
    Joint.SCREW: Fastening.RING,
    Joint.CASE: Fastening.RING,
    Joint.BLADE: Fastening.RECEPTACLE,
    Joint.BULLET: Fastening.BULLET,
    Joint.CAVITY: Fastening.CONTACT,
    Joint.SPLICE: Fastening.BARREL,
}


@frozen(kw_only=True)
class Capacity:
    """What one terminal takes; the attributes stand in data/capacities.toml."""

    fittings: int
    heavy: int
    in_one: int
    adapters: int
    source: str

    @property
    def most_wires(self) -> int:
        """Thin wires that it takes at most, adapters counted."""
        return (self.fittings + self.adapters) * self.in_one


@frozen(kw_only=True)
class EndFitting:
    """
    One ring, clamp, receptacle or barrel, with the wires that end in it.

    Attributes:
        fastening: What it is.
        wires: Thickest first.
        is_new: True if it is made in this job; else it stays as it was.
    """

    fastening: Fastening
    wires: tuple[Wire, ...]
    is_new: bool


@cache
def _capacities() -> dict[Joint, Capacity]:
    table = data_table(__package__, "capacities.toml")
    return {joint: Capacity(**table[joint]) for joint in Joint}


def capacity_of(connection: Connection) -> Capacity:
    """What a terminal of that hardware takes; two blades take two receptacles and no adapter."""
    one = _capacities()[connection.joint]
    if not connection.is_double:
        return one
    return Capacity(fittings=2, heavy=2, in_one=one.in_one, adapters=0, source=one.source)


def is_heavy(size: WireSize) -> bool:
    """True for cables of which a stud takes two only."""
    gauge = None if size.system == METRIC else gauge_number(size)
    return size.area_mm2 >= HEAVY_MM2 if gauge is None else gauge <= HEAVY_GAUGE


def thickest_first(wires: Iterable[Wire]) -> list[Wire]:
    """Wires by their copper, those of equal copper by id; the order of rings from the bottom."""
    return sorted(wires, key=lambda wire: (-wire.size.area_mm2, wire.id))


def fittings_at(
    connection: Connection,
    wires: Iterable[Wire],
    *,
    as_they_were: Iterable[str] = (),
    new: Iterable[str] = (),
    bearer: str = "",
) -> tuple[EndFitting, ...]:
    """
    What holds the wires of one terminal, from the bottom or the post outwards.

    Args:
        connection: Its hardware.
        wires: All that end there.
        as_they_were: Ids of those that were on it before and keep what they have.
        new: Ids of those that get a new end.
        bearer: Id of the wire that has the clamp of a post; "" for the thickest.
    """
    ordered, made = thickest_first(wires), frozenset(new)
    match connection.joint:
        case Joint.POST:
            return _at_post(ordered, made, bearer)
        case Joint.SPLICE:
            return (_one(Fastening.BARREL, ordered, is_new=bool(made)),) if ordered else ()
    fastening = _BY_JOINT[connection.joint]
    if capacity_of(connection).in_one == 1:
        return tuple(_one(fastening, [wire], is_new=wire.id in made) for wire in ordered)
    kept = frozenset(as_they_were)
    old = [wire for wire in ordered if wire.id in kept - made]
    moved = [[wire] for wire in ordered if wire.id not in kept | made]
    pairs = _sharing([wire for wire in ordered if wire.id in made])
    return (
        *(_one(fastening, group, is_new=False) for group in ([old] if old else []) + moved),
        *(_one(fastening, group, is_new=True) for group in pairs),
    )


def adapters_for(connection: Connection, fittings: Sequence[EndFitting]) -> int:
    """Double-blade adapters or bullet sleeves that so many fittings need there."""
    capacity = capacity_of(connection)
    return max(0, len(fittings) - capacity.fittings) if capacity.adapters else 0


def on_block(connection: Connection, fittings: Sequence[EndFitting]) -> tuple[EndFitting, ...]:
    """
    Rings that a stud or screw does not take, the thinnest.

    They go on a distribution block beside it; one place on the stud is for the cable that joins it.
    """
    most = capacity_of(connection).fittings
    is_stud = connection.joint in (Joint.STUD, Joint.SCREW)
    return tuple(fittings[most - 1 :]) if is_stud and len(fittings) > most else ()


def is_too_full(connection: Connection, fittings: Sequence[EndFitting]) -> bool:
    """True if the terminal does not take them all, with adapters neither."""
    capacity = capacity_of(connection)
    return len(fittings) > capacity.fittings + capacity.adapters


def _at_post(ordered: list[Wire], made: frozenset[str], bearer: str) -> tuple[EndFitting, ...]:
    """The clamp on the post, then the rings under its bolt."""
    with_clamp = clamp_bearer(ordered, bearer)
    ordered = sorted(ordered, key=lambda wire: wire.id != with_clamp)
    return tuple(
        _one(
            Fastening.CLAMP if wire.id == with_clamp else Fastening.BOLT_RING,
            [wire],
            is_new=wire.id in made,
        )
        for wire in ordered
    )


def clamp_bearer(wires: Iterable[Wire], bearer: str = "") -> str:
    """Id of the wire with the clamp: the one that has it already, else the thickest; "" of none."""
    ids = [wire.id for wire in thickest_first(wires)]
    return bearer if bearer in ids else next(iter(ids), "")


def _sharing(wires: list[Wire]) -> list[list[Wire]]:
    """Wires in twos where a barrel takes both, the thickest with the thinnest; else alone."""
    left, groups = list(wires), []
    while left:
        first = left.pop(0)
        mate = next((w for w in reversed(left) if shared_barrel_for([first.size, w.size])), None)
        if mate is not None:
            left.remove(mate)
        groups.append([first] if mate is None else [first, mate])
    return groups


def _one(fastening: Fastening, wires: list[Wire], *, is_new: bool) -> EndFitting:
    return EndFitting(fastening=fastening, wires=tuple(wires), is_new=is_new)
