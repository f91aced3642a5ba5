"""What would help against an error: for the command line, when a call has failed."""

from upgrade_planner.errors import PlannerError


def explained(error: PlannerError) -> str:
    """The error in words; where a shipped system does not fit, with the vehicles that it fits."""
    if not error.is_misfit:
        return str(error)
    from upgrade_planner.library.fitting import with_fitting_vehicles  # slow, seldom needed

    return str(with_fitting_vehicles(error))
