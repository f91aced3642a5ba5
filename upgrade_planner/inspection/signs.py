"""Signs of earlier alterations to look for, chosen by what a configuration holds."""

from collections.abc import Iterator, Mapping
from functools import cache
from typing import Any

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.files.own_data import data_table
from upgrade_planner.configuration.model import Component, Configuration, Wire

WIRE_TESTS = frozenset({"circuit", "conductor"})
PART_TESTS = frozenset({"kind", "role"})
VEHICLE_TESTS = frozenset({"ground", "voltage"})


@frozen(kw_only=True)
class Sign:
    """
    One thing that earlier owners do.

    Attributes:
        look: What to look for.
        record: How it is written down on the form.
        where: What brought it up: ids of wires, roles of parts; nothing for the vehicle itself.
        condition: State of the part that the sign tells; "" if it tells none.
        source: `common practice`.
    """

    id: str
    look: str
    record: str
    where: tuple[str, ...]
    condition: str = ""
    source: str


@cache
def sign_entries() -> tuple[Mapping[str, Any], ...]:
    """The table as it stands in the data."""
    return tuple(data_table(__package__, "signs.toml")["sign"])


def signs(configuration: Configuration) -> tuple[Sign, ...]:
    """The signs to look for in a configuration, in the order of the table."""
    return tuple(_chosen(configuration))


def _chosen(configuration: Configuration) -> Iterator[Sign]:
    for entry in sign_entries():
        hits = [_hits(tests, configuration) for tests in entry["when"]]
        if any(hit is not None for hit in hits):
            where = dict.fromkeys(name for hit in hits for name in hit or ())
            yield Sign(
                id=entry["id"],
                look=entry["look"],
                record=entry["record"],
                where=tuple(where),
                condition=entry.get("condition", ""),
                source=entry["source"],
            )


def _hits(tests: Mapping[str, Any], configuration: Configuration) -> tuple[str, ...] | None:
    """Wires or parts that pass all tests; None if nothing does."""
    names = set(tests)
    if names <= WIRE_TESTS:
        found = [wire.id for wire in configuration.wires if _passes(wire, tests)]
    elif names <= PART_TESTS:
        found = [part.role for part in configuration.components if _passes(part, tests)]
    elif names <= VEHICLE_TESTS:
        vehicle = configuration.vehicle
        facts = {"ground": vehicle.ground, "voltage": vehicle.voltage_v}
        return () if all(facts[name] == wanted for name, wanted in tests.items()) else None
    else:
        raise ValueError(f"signs.toml: found the tests {sorted(names)} together")
    return tuple(found) or None


def _passes(item: Wire | Component, tests: Mapping[str, Any]) -> bool:
    return all(str(getattr(item, name)) == wanted for name, wanted in tests.items())
