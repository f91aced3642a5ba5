"""Room in connectors over several jobs: wires that an earlier one left dead hold cavities too."""

from collections.abc import Sequence

from attrs import evolve

from upgrade_planner.comparison.as_built import stays_capped
from upgrade_planner.comparison.results import Comparison, Disposition, WireChange
from upgrade_planner.configuration.model import Component


def with_room(comparisons: Sequence[Comparison]) -> tuple[Comparison, ...]:
    """
    The same jobs; a dead wire whose cavity a later one needs comes out instead of being capped.

    Args:
        comparisons: Jobs on one vehicle, one after the other.
    """
    made = list(comparisons)
    for number in range(len(made)):
        for part in made[number].after.components:
            if part.kind == "connector":
                _make_room(made, number, part)
    return tuple(made)


def _make_room(made: list[Comparison], number: int, connector: Component) -> None:
    while _occupied(made, number, connector.role) > connector.ratings["cavities"]:
        held = [
            (stage, change)
            for stage in range(number + 1)
            for change in _holding(made[stage], connector.role)
        ]
        if not held:
            return  # too many live wires: a finding, not a matter of policy
        stage, first = min(held, key=lambda item: (item[0], item[1].wire.circuit, item[1].mark))
        out = _taken_out(first, connector.role, number + 1)
        wires = tuple(out if change is first else change for change in made[stage].wires)
        made[stage] = evolve(made[stage], wires=wires)


def _occupied(made: Sequence[Comparison], number: int, connector: str) -> int:
    after = made[number].after
    live = sum(run.connectors.count(connector) for run in after.runs.values())
    return live + sum(len(_holding(made[stage], connector)) for stage in range(number + 1))


def _holding(comparison: Comparison, connector: str) -> list[WireChange]:
    """Changes that leave a dead wire in the connector."""
    runs = comparison.before.runs
    return [
        change
        for change in comparison.wires
        if change.before is not None
        and stays_capped(change)
        and connector in runs[change.before.id].connectors
    ]


def _taken_out(change: WireChange, connector: str, stage: int) -> WireChange:
    reason = change.reason.split(" It lies in ")[0].split(" The old one stays")[0]
    reason += f" Stage {stage} needs its cavity in the {connector.replace('_', ' ')}: it comes out."
    if change.disposition is Disposition.CAP_OFF:
        return evolve(change, disposition=Disposition.REMOVE, reason=reason)
    return evolve(change, old_stays=False, reason=reason)
