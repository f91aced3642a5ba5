"""
Two configurations as plain structures, and where these differ: for programs and for records.

What happens to each part and wire is for `comparing` to say; this says what is written differently,
whatever it means for the work.
"""

from collections.abc import Iterator, Mapping
from typing import Any

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.composing.digest import plain_value
from upgrade_planner.configuration.model import Component, Configuration, Wire
from upgrade_planner.configuration.structuring.connections import rings_text
from upgrade_planner.configuration.values.sizes import size_text

Structure = dict[str, Any]


@frozen(kw_only=True)
class StructuralChange:
    """
    One thing that is written differently.

    Attributes:
        path: Keys from the top: `wires`, id of a wire, `size`.
        before: Value or table before; None if there was none.
        after: Value or table after; None if there is none.
    """

    path: tuple[str, ...]
    before: Any
    after: Any


def structure_of(configuration: Configuration) -> Structure:
    """
    A configuration as tables of tables: `vehicle`, `parts` by role, `wires` by id, `switches`.

    Notes of parts, places and coverings are left out.

    Numbers are in SI units; what is not given has no key.
    """
    vehicle = configuration.vehicle
    return {
        "vehicle": {"ground": vehicle.ground, "voltage_v": vehicle.voltage_v},
        "parts": {part.role: _part(part) for part in configuration.components},
        "wires": {wire.id: _wire(wire, configuration) for wire in configuration.wires},
        "switches": _keyed(plain_value(configuration.switch_positions)),
    }


def structural_changes(before: Configuration, after: Configuration) -> tuple[StructuralChange, ...]:
    """Everything that is written differently in two configurations, by path."""
    from deepdiff import DeepDiff  # a tenth of a second that only those pay who ask

    one, other = structure_of(before), structure_of(after)
    found = DeepDiff(
        _without_like(one, other),
        _without_like(other, one),
        view="tree",
        threshold_to_diff_deeper=0,
    )
    changes = [_change(level) for levels in found.values() for level in levels]
    return tuple(sorted(changes, key=lambda change: change.path))


def _without_like(tables: Structure, others: Structure) -> Structure:
    """The tables without what is equal in others: most of a vehicle, of which nothing is told."""
    return {
        name: {key: item for key, item in table.items() if others[name].get(key) != item}
        for name, table in tables.items()
    }


def _change(level: Any) -> StructuralChange:
    """One level of the difference as a value of our own; a missing side is no plain data."""
    one, other = (side if _is_plain(side) else None for side in (level.t1, level.t2))
    path = tuple(map(str, level.path(output_format="list")))
    return StructuralChange(path=path, before=one, after=other)


def _is_plain(value: Any) -> bool:
    return isinstance(value, str | int | float | dict)


def _part(part: Component) -> Structure:
    terminals = {
        t.name: {"mark": t.label, "connection": t.connection.label} for t in part.terminals
    }
    return {
        "kind": part.kind,
        "name": part.name,
        "place": part.place,
        "terminals": terminals,
        "ratings": _keyed(plain_value(part.ratings)),
    }


def _wire(wire: Wire, configuration: Configuration) -> Structure:
    given = {
        "circuit": wire.circuit,
        "from": str(wire.start),
        "to": str(wire.end),
        "size": size_text(wire.given_size),
        "conductor": str(wire.conductor),
        "resistance_ohm": wire.resistance_ohm,
        "insulation": wire.insulation.name,
        "colour": wire.colour.code,
        "length_m": configuration.runs[wire.id].length_m,
        "loom": wire.loom,
        "rings": rings_text(wire.rings),
        "note": wire.note,
    }
    return {key: value for key, value in given.items() if value not in (None, "")}


def _keyed(value: Any) -> Any:
    """Lists as tables by number, so that every value has a path of keys."""
    if isinstance(value, list):
        value = {str(number): item for number, item in enumerate(value)}
    if isinstance(value, Mapping):
        return {key: _keyed(item) for key, item in _given(value)}
    return float(value) if isinstance(value, int) and not isinstance(value, bool) else value


def _given(table: Mapping[str, Any]) -> Iterator[tuple[str, Any]]:
    return ((key, item) for key, item in table.items() if item is not None)
