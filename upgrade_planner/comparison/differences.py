"""Which attributes of a pair of wires or parts differ."""

from collections.abc import Mapping
from typing import Any

from upgrade_planner.comparison.why import Attribute, Difference
from upgrade_planner.configuration.model import Component, Wire
from upgrade_planner.configuration.registry import kinds
from upgrade_planner.configuration.values.measures import Quantity, ohm
from upgrade_planner.configuration.values.quantities import Dimension

_Facts = Mapping[tuple[Attribute, str], Any]


def wire_differences(before: Wire, after: Wire) -> tuple[Difference, ...]:
    """Attributes of two wires that differ."""
    return _differences(_wire_facts(before), _wire_facts(after))


def part_differences(before: Component, after: Component) -> tuple[Difference, ...]:
    """Attributes of two components that differ; a new name alone is no difference."""
    return _differences(_part_facts(before), _part_facts(after))


def _wire_facts(wire: Wire) -> _Facts:
    ohms = wire.resistance_ohm
    return {
        (Attribute.CIRCUIT, ""): wire.circuit,
        (Attribute.ENDS, ""): tuple(sorted(wire.ends)),  # a wire has no direction of its own
        (Attribute.SIZE, ""): wire.size,
        (Attribute.KIND, ""): str(wire.conductor),
        (Attribute.RESISTANCE, ""): None if ohms is None else ohm(ohms),
        (Attribute.INSULATION, ""): wire.insulation.name,
        (Attribute.COLOUR, ""): wire.colour.code,
    }


def _part_facts(part: Component) -> _Facts:
    return {
        (Attribute.KIND, ""): part.kind,
        (Attribute.PLACE, ""): part.place,
        **{
            (Attribute.RATING, name): _rating(part.kind, name, value)
            for name, value in part.ratings.items()
        },
        **{
            (Attribute.TERMINAL, terminal.name): (terminal.label, terminal.connection)
            for terminal in part.terminals
        },
    }


def _rating(kind: str, name: str, value: Any) -> Any:
    """The value of a rating, with its kind of quantity if it is measured."""
    word = kinds()[kind].ratings.get(name, "").upper()
    if isinstance(value, float) and word in Dimension.__members__:
        return Quantity(value, Dimension[word])
    return value


def _differences(before: _Facts, after: _Facts) -> tuple[Difference, ...]:
    return tuple(
        Difference(attribute=key[0], name=key[1], before=before.get(key), after=after.get(key))
        for key in sorted(before.keys() | after.keys())
        if before.get(key) != after.get(key)
    )
