"""
Changes of a configuration as values: what a remedy would do, carried out on paper.

An edit names wires and parts by id and role. `edited` gives the configuration that results; the
text of a file that says the same is made in `documents/profiles`.
"""

from collections.abc import Iterable, Mapping
from typing import Any

from attrs import evolve, field

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.composing.routing import NoWay, RouteMap
from upgrade_planner.configuration.model import Conductor, Configuration, TerminalRef, Wire
from upgrade_planner.configuration.values.sizes import WireSize
from upgrade_planner.configuration.ways import Run


@frozen
class Resize:
    """A wire gets another size; one of aluminium is renewed in copper."""

    wire_id: str
    size: WireSize


@frozen
class Rejoin:
    """One end of a wire goes to another terminal."""

    wire_id: str
    at_start: bool
    to: TerminalRef


@frozen
class TakeOut:
    """A wire comes out."""

    wire_id: str


@frozen
class Rerate:
    """A part gets other ratings: another fuse, another coil."""

    role: str
    ratings: Mapping[str, Any] = field(hash=False)


Edit = Resize | Rejoin | TakeOut | Rerate


def edited(configuration: Configuration, edits: Iterable[Edit]) -> Configuration:
    """
    The configuration with edits carried out, in their order.

    Raises:
        KeyError: an edit names a wire or part that is not there.
    """
    wires, parts = dict(configuration.wire_by_id), dict(configuration.component_by_role)
    moved: set[str] = set()
    for edit in edits:
        match edit:
            case Resize():
                wires[edit.wire_id] = _resized(wires[edit.wire_id], edit.size)
            case Rejoin():
                wires[edit.wire_id] = _rejoined(wires[edit.wire_id], edit)
                moved.add(edit.wire_id)
            case TakeOut():
                del wires[edit.wire_id]
            case Rerate():
                ratings = {**parts[edit.role].ratings, **edit.ratings}
                parts[edit.role] = evolve(parts[edit.role], ratings=ratings)
    after = evolve(
        configuration,
        wires=tuple(wires[name] for name in sorted(wires)),
        components=tuple(parts[role] for role in sorted(parts)),
    )
    return evolve(after, runs=_runs(after, moved)) if moved else after


def _resized(wire: Wire, size: WireSize) -> Wire:
    is_poor = wire.conductor is Conductor.ALUMINIUM
    return evolve(wire, size=size, conductor=Conductor.COPPER if is_poor else wire.conductor)


def _rejoined(wire: Wire, edit: Rejoin) -> Wire:
    return evolve(wire, start=edit.to) if edit.at_start else evolve(wire, end=edit.to)


def _runs(configuration: Configuration, moved: Iterable[str]) -> Mapping[str, Run]:
    """The known runs, with those of the wires that were moved or laid anew."""
    ways = RouteMap(tuple(place.id for place in configuration.places), configuration.routes)
    runs = dict(configuration.runs)
    for name in moved:
        if name in configuration.wire_by_id:
            runs[name] = _run(configuration.wire_by_id[name], configuration, ways)
    return runs


def _run(wire: Wire, configuration: Configuration, ways: RouteMap) -> Run:
    """In its loom if that still leads there, else the shortest way."""
    start, end = (configuration.place_of(ref).id for ref in wire.ends)
    try:
        return ways.run(start, end, loom=wire.loom, measured_m=wire.measured_length_m)
    except NoWay:
        return ways.run(start, end, measured_m=wire.measured_length_m)
