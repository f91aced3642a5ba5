"""A plan carried out on paper, all steps in one go."""

from upgrade_planner.planning.simulation import state_of


def carried_out(before, after, operations, spares=()):
    """The vehicle after all operations; arguments as at `state_of`."""
    state = state_of(before, after, spares)
    for operation in operations:
        state.carry_out(operation)
    return state
