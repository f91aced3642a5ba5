"""Several jobs of one order from one file: `order.toml`, a `[[job]]` table for each upgrade."""

from collections.abc import Mapping
from pathlib import Path
from typing import Annotated, Any, ClassVar

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.files.faults import FieldFault, shown
from upgrade_planner.configuration.files.loaded import sound
from upgrade_planner.configuration.files.toml_files import read_toml
from upgrade_planner.configuration.structuring.hooks import structured
from upgrade_planner.kit.packing import OrderedUpgrade
from upgrade_planner.kit.prices.notations import Printed, Text, words_from

MOST_VEHICLES = 999
"""Vehicles alike in one job. Source: our assumption; more is a slip of the finger."""


def _names_from(value: Any) -> tuple[str, ...]:
    names = tuple(map(words_from, value if isinstance(value, list) else [value]))
    if not names:
        raise FieldFault("an empty list", "the name of a configuration, or several in stages")
    return names


def _vehicles_from(value: Any) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or not 1 <= value <= MOST_VEHICLES:
        raise FieldFault(shown(value), f"a whole number from 1 to {MOST_VEHICLES}, without quotes")
    return value


@frozen(kw_only=True)
class OrderedJob:
    """
    A `[[job]]` table.

    Attributes:
        after: Name of the target, or of each stage and the target.
        customer, order: Whose job it is; on its bags and labels.
    """

    stands_in_a_file: ClassVar[bool] = True
    examples: ClassVar[Mapping[str, str]] = {
        "before": '"van_as_found"',
        "after": '"van_upgraded"',
        "vehicles": "2",
    }
    before: Text
    after: Annotated[tuple[str, ...], _names_from]
    vehicles: Annotated[int, _vehicles_from] = 1
    customer: Printed = ""
    order: Printed = ""


@frozen(kw_only=True)
class OrderFile:
    """All jobs of a file."""

    stands_in_a_file: ClassVar[bool] = True
    examples: ClassVar[Mapping[str, str]] = {"job": "[[job]]"}
    job: tuple[OrderedJob, ...]


def ordered_upgrades(path: Path) -> tuple[OrderedUpgrade, ...]:
    """
    The upgrades of a file; configurations beside it are found by their file names.

    Raises:
        ConfigurationError: the file cannot be read or is faulty; every fault, with line and column.
    """
    content = sound(structured(OrderFile, read_toml(path)))
    return tuple(_ordered(job, path.parent) for job in content.job)


def _ordered(job: OrderedJob, folder: Path) -> OrderedUpgrade:
    names = (job.before, *job.after)
    return OrderedUpgrade(
        configurations=tuple(
            str(folder / name) if (folder / name).is_file() else name for name in names
        ),
        times=job.vehicles,
        whose=", ".join(filter(None, (job.customer, job.order))),
    )
