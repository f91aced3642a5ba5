"""Kinds of work, each with its own rate and its own experience of a shop."""

from upgrade_planner.planning.operations import (
    AdjustPart,
    CareForPart,
    FindCause,
    FitPart,
    Operation,
    Procedure,
    RebuildPart,
    RemovePart,
    SwitchOn,
    Work,
)

WIRING, FITTING, TESTING = "wiring", "fitting", "testing"
ROAD_TEST, DIAGNOSIS, BENCH = "road_test", "diagnosis", "bench"
WORKS = (DIAGNOSIS, WIRING, FITTING, BENCH, TESTING, ROAD_TEST)
"""In the order printed."""

_PROCEDURES = {Work.CONVERSION: FITTING, Work.ROAD_TEST: ROAD_TEST}


def work_of(operation: Operation) -> str:
    """The kind of work that an operation is."""
    if isinstance(operation, Procedure):
        return _PROCEDURES.get(operation.work, TESTING)
    if isinstance(operation, SwitchOn):
        return TESTING
    if isinstance(operation, FindCause):
        return DIAGNOSIS
    at_part = RemovePart | FitPart | AdjustPart | RebuildPart | CareForPart
    return FITTING if isinstance(operation, at_part) else WIRING
