"""What is shipped, found and compared: the calls behind `list`, one for each question."""

from typing import TYPE_CHECKING

from attrs import evolve

from upgrade_planner.configuration.files.shipped import find_profile
from upgrade_planner.library import collected
from upgrade_planner.library.collected import Library, Say
from upgrade_planner.library.finds import Filters, Finds, find
from upgrade_planner.library.fitting import (
    Fit,
    configurations_of,
    fits_of_vehicle,
    shipped_uses,
)

if TYPE_CHECKING:
    from upgrade_planner.planning.upgrades import Upgrades


def everything(say: Say = lambda _: None) -> Library:
    """All shipped configurations with what one sees of them."""
    return collected.load_library(say)


def finds(filters: Filters, say: Say = lambda _: None) -> Finds:
    """
    The shipped configurations that are as wanted.

    Raises:
        BadFilter: a value that is no voltage, no terminal or no number.
    """
    return find(collected.load_library(say), filters)


def fits(vehicle: str) -> tuple[tuple[Fit, ...], tuple[str, ...]]:
    """
    Every shipped system for the slots of a vehicle; reasons for those left out.

    Raises:
        PlannerError: no such vehicle, or it is faulty.
    """
    find_profile("vehicle", vehicle)  # a misspelt name is told before anything is computed
    return fits_of_vehicle(vehicle)


def upgrades(
    name: str, filters: Filters, *, is_from: bool, say: Say = lambda _: None
) -> "Upgrades":
    """
    What upgrades lead from, or to, a configuration: the call behind `list --from` and `--to`.

    Args:
        name: Name or path of the configuration.
        filters: Traits that the other end must have.
        is_from: True if `name` is what is there now.
        say: Told what is being done.

    Raises:
        PlannerError: no such configuration, a faulty one, or a filter that cannot be read.
    """
    from upgrade_planner.electrical.sizing import load_sized
    from upgrade_planner.planning.upgrades import upgrades_of

    (anchor,) = load_sized(name)
    names = configurations_of(anchor.vehicle.name)
    library = collected.load_library(say, names)
    shipped = find(library, filters).shipped if filters else library.shipped
    others = len(shipped_uses()) - len(names)
    found = upgrades_of(anchor, shipped, is_from=is_from, other_vehicles=others, say=say)
    return evolve(found, left_out=(*library.left_out, *found.left_out))
