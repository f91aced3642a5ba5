"""What a meter reads in every state: the call behind `readings`, and for scripts."""

from upgrade_planner.electrical.failures import with_open_wire
from upgrade_planner.electrical.sizing import load_sized
from upgrade_planner.planning.state_readings import Survey, survey


def readings(name: str, state: str = "", open_wire: str = "") -> Survey:
    """
    Voltages, currents and ranges to expect in a configuration, by shipped name or path.

    Args:
        name: The configuration.
        state: One state only; "" for all.
        open_wire: Id of a wire that is broken; "" for none.

    Raises:
        PlannerError: faulty input, no such state, no such wire.
    """
    (configuration,) = load_sized(name)
    return survey(with_open_wire(configuration, open_wire) if open_wire else configuration, state)
