"""Which attributes of a pair differ; deepdiff finds them, and no deepdiff path leaves here."""

from collections.abc import Mapping
from typing import Any

from upgrade_planner.comparison.wire_changes import Difference
from upgrade_planner.configuration.model import Component, Wire
from upgrade_planner.configuration.registry import kinds
from upgrade_planner.configuration.values.quantities import Dimension, format_quantity

_WIRE_WORDS = {"conductor": "kind", "resistance": "resistance", "start": "from", "end": "to"}


def wire_differences(before: Wire, after: Wire) -> tuple[Difference, ...]:
    """Attributes of two wires that differ, in words."""
    return _differences(_wire_facts(before), _wire_facts(after))


def part_differences(before: Component, after: Component) -> tuple[Difference, ...]:
    """Attributes of two components that differ, in words; a new name alone is no difference."""
    return _differences(_part_facts(before), _part_facts(after))


def _wire_facts(wire: Wire) -> dict[str, str]:
    ohms = wire.resistance_ohm
    joined = sorted(str(ref) for ref in wire.ends)  # a wire has no direction of its own
    return {
        "circuit": wire.circuit,
        "ends": " – ".join(joined),
        "size": wire.size.label,
        "kind": str(wire.conductor),
        "resistance": "" if ohms is None else f"{ohms:g}\N{NO-BREAK SPACE}Ω",
        "insulation": wire.insulation.name,
        "colour": wire.colour.code,
    }


def _part_facts(part: Component) -> dict[str, str]:
    facts = {"kind": part.kind, "place": part.place}
    facts |= {
        f"rating {name.replace('_', ' ')}": _rating(part.kind, name, value)
        for name, value in part.ratings.items()
    }
    facts |= {
        f"terminal {terminal.name}": f"{terminal.label}, {terminal.connection.label}"
        for terminal in part.terminals
    }
    return facts


def _rating(kind: str, name: str, value: Any) -> str:
    """A rating as the trade writes it: `7 mH`, `60 A`, `off, on`."""
    word = kinds()[kind].ratings.get(name, "").upper()
    if isinstance(value, float) and word in Dimension.__members__:
        return format_quantity(value, Dimension[word])
    if isinstance(value, Mapping):
        return ", ".join(
            f"{position}: {' + '.join('-'.join(group) for group in groups) or 'open'}"
            for position, groups in value.items()
        )
    if isinstance(value, tuple):
        return ", ".join(f"{way.end} {way.rated_current_a:g} A" for way in value)
    return f"{value:g}" if isinstance(value, float) else str(value)


def _differences(before: dict[str, str], after: dict[str, str]) -> tuple[Difference, ...]:
    if before == after:  # deepdiff only on pairs that differ: it costs far more than `==`
        return ()

    from deepdiff import DeepDiff  # slow to import, and few pairs differ

    # threshold 0: else two parts with few names in common count as one change of the whole
    found = DeepDiff(before, after, view="tree", threshold_to_diff_deeper=0)
    names = {node.path(output_format="list")[0] for nodes in found.values() for node in nodes}
    return tuple(sorted(_difference(name, before, after) for name in names))


def _difference(name: str, before: Mapping[str, str], after: Mapping[str, str]) -> Difference:
    return Difference(name, before.get(name, ""), after.get(name, ""))
