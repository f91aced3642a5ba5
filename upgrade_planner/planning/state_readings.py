"""One configuration by itself: what a meter shows in every operating state."""

from collections.abc import Iterable, Mapping
from functools import cached_property

from upgrade_planner.attributes import frozen
from upgrade_planner.comparison.comparing import compare
from upgrade_planner.configuration.model import Configuration
from upgrade_planner.electrical.mean_points import mean_of
from upgrade_planner.electrical.network.unsolvable import NetworkError
from upgrade_planner.electrical.operating_points import OperatingPoint, operating_point
from upgrade_planner.electrical.states import MEASURED, STATES, State
from upgrade_planner.errors import PlannerError
from upgrade_planner.planning.facts import facts_of
from upgrade_planner.planning.standing_data import Reading, readings
from upgrade_planner.readings.predicting import Range, predicted, with_meter_error


class UnknownState(PlannerError):
    """A state that does not exist was asked for."""

    def __init__(self, name: str) -> None:
        self.name = name
        names = ", ".join(_names(MEASURED))
        super().__init__(f"--state: found '{name}'; expected one of {names}")


@frozen(kw_only=True, eq=False)
class Survey:
    """
    A configuration in some or all states.

    Attributes:
        states: The states.
        readings: The readings that can be taken in these states.
    """

    configuration: Configuration
    states: tuple[State, ...]
    readings: tuple[Reading, ...]

    @cached_property
    def points(self) -> Mapping[State, OperatingPoint | None]:
        """Operating point of each state; None if the state has no solution."""
        return {state: _point(self.configuration, state) for state in self.states}

    @cached_property
    def expected(self) -> Mapping[str, Range | None]:
        """Ranges of the readings, by id; a reading of a state without solution has none."""
        solved = {state.name: point for state, point in self.points.items() if point is not None}
        taken = [reading.point for reading in self.readings]
        return with_meter_error(predicted(taken, self.configuration, solved))


def survey(configuration: Configuration, state: str = "") -> Survey:
    """
    The operating points and expected readings of a configuration.

    Args:
        configuration: The wiring.
        state: Name of one state; all if empty.

    Raises:
        UnknownState: no state of that name.
    """
    if state not in ("", *_names(MEASURED)):
        raise UnknownState(state)
    facts = facts_of(compare(configuration, configuration))
    taken = tuple(r for r in readings(facts, configuration) if state in ("", r.point.state))
    names = {state} if state else {*_names(STATES), *(r.point.state for r in taken)}
    states = tuple(one for one in MEASURED if one.name in names)
    return Survey(configuration=configuration, states=states, readings=taken)


def _names(states: Iterable[State]) -> tuple[str, ...]:
    return tuple(state.name for state in states)


def _point(configuration: Configuration, state: State) -> OperatingPoint | None:
    try:
        return mean_of(operating_point(configuration, state))
    except NetworkError:
        return None
