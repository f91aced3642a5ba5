"""Configurations by what one sees of them: filters, a table of traits, systems that fit."""

import json
from collections.abc import Mapping, Sequence
from typing import Any

from attrs import frozen

from upgrade_planner.configuration.files.shipped import find_profile
from upgrade_planner.documents.terminal.console import console, table
from upgrade_planner.library.collected import LeftOut, Library, Shipped
from upgrade_planner.library.fitting import Fit, fits_of_vehicle
from upgrade_planner.library.matching import checked_filter, has_words, is_wanted
from upgrade_planner.library.traits import Traits, subjects

VEHICLE = "vehicle"
"""Filter that looks at the name and title of the vehicle, not at a trait."""

ALWAYS_SHOWN = ("charging", "ignition")

Filters = Mapping[str, str]
"""What was typed, by the name of the trait."""


@frozen(kw_only=True)
class Finds:
    """
    Configurations that all filters let pass.

    Attributes:
        existing: Values that exist of each trait that was asked for.
        alone: How many configurations each filter alone lets pass.
    """

    filters: Filters
    shipped: tuple[Shipped, ...]
    existing: Mapping[str, tuple[str, ...]]
    alone: Mapping[str, int]
    left_out: tuple[LeftOut, ...]


def find(library: Library, filters: Filters) -> Finds:
    """
    The shipped configurations that are as wanted, grouped by vehicle.

    Raises:
        BadFilter: a value that is no voltage, no terminal or no number.
    """
    existing = {name: _existing(library, name) for name in filters}
    checked = {name: _checked(name, text, existing[name]) for name, text in filters.items()}
    passed = {
        name: [one for one in library.shipped if _passes(one, name, value)]
        for name, value in checked.items()
    }
    found = [one for one in library.shipped if all(one in row for row in passed.values())]
    found.sort(key=lambda one: (one.configuration.vehicle.title, one.name))
    return Finds(
        filters=filters,
        shipped=tuple(found),
        existing=existing,
        alone={name: len(row) for name, row in passed.items()},
        left_out=library.left_out,
    )


def _checked(name: str, text: str, existing: tuple[str, ...]) -> str:
    return text.strip().lower() if name == VEHICLE else checked_filter(name, text, existing)


def _passes(one: Shipped, name: str, value: str) -> bool:
    if name == VEHICLE:
        vehicle = one.configuration.vehicle
        return has_words(f"{vehicle.name} {vehicle.title} {vehicle.name.replace('_', ' ')}", value)
    return is_wanted(one.traits[name], value)


def _existing(library: Library, name: str) -> tuple[str, ...]:
    if name == VEHICLE:
        return tuple(sorted({one.configuration.vehicle.name for one in library.shipped}))
    words = {one.traits[name].words for one in library.shipped} - {""}
    return tuple(sorted(words, key=_by_number))


def _by_number(words: str) -> tuple[float, str]:
    first = words.split(maxsplit=1)[0]
    return (float(first) if first.replace(".", "", 1).isdigit() else 0.0, words)


def print_finds(finds: Finds) -> None:
    """The configurations as a table; what exists instead, if there are none."""
    out = console()
    if finds.shipped:
        extra = [n for n in finds.filters if n not in (VEHICLE, "voltage", "ground")]
        columns = tuple(dict.fromkeys((*ALWAYS_SHOWN, *extra)))
        headings = ("configuration", "supply", *(subjects()[n].title for n in columns))
        shown = table("", headings, [_row(one, columns) for one in finds.shipped])
        for column in shown.columns[: len(headings) - len(columns)]:
            column.no_wrap = True  # a name in two pieces cannot be copied
        out.print(shown)
        out.print()
        out.print("What each would change: upgrade-planner list --from NAME")
    else:
        _print_nothing(finds)
    print_left_out(finds.left_out)


def _row(one: Shipped, columns: Sequence[str]) -> tuple[str, ...]:
    supply = one.traits["voltage"].words + (
        " neg." if one.configuration.vehicle.ground == "negative" else " pos."
    )
    traits = (one.traits[name] for name in columns)
    return (one.name, supply, *(t.brief or t.words or "not stated" for t in traits))


def _print_nothing(finds: Finds) -> None:
    out = console()
    out.print("No shipped configuration is all of that. What exists:")
    for name, text in finds.filters.items():
        count = finds.alone[name]
        found = f"{count} with '{text}'" if count else f"none with '{text}'"
        exists = "; ".join(finds.existing[name]) or "nothing is stated"
        out.print(f"--{name} ({found}): {exists}", soft_wrap=False)


def print_left_out(left_out: Sequence[LeftOut]) -> None:
    """What could not be used, one line each."""
    for one in left_out:
        console().print(f"left out: {one.name}: {one.reason}", soft_wrap=True)


def finds_json(finds: Finds) -> str:
    """The configurations with their traits as JSON text."""
    data = {
        "format": "upgrade-planner finds",
        "version": 1,
        "filters": dict(finds.filters),
        "configurations": [shipped_data(one) for one in finds.shipped],
        "existing": {name: list(values) for name, values in finds.existing.items()},
        "left_out": [{"name": one.name, "reason": one.reason} for one in finds.left_out],
    }
    return json.dumps(data, indent=1, ensure_ascii=False, sort_keys=True) + "\n"


def shipped_data(one: Shipped) -> dict[str, Any]:
    """One configuration as plain data."""
    return {
        "name": one.name,
        "title": one.configuration.title,
        "vehicle": one.configuration.vehicle.name,
        "systems": dict(one.configuration.systems),
        "traits": traits_data(one.traits),
    }


def traits_data(traits: Traits) -> dict[str, Any]:
    """Traits as plain data: ids for programs, words for people."""
    return {name: {"ids": list(t.ids), "words": t.words} for name, t in traits.items()}


def fits(vehicle: str) -> tuple[tuple[Fit, ...], tuple[str, ...]]:
    """
    Every shipped system for the slots of a vehicle; reasons for those left out.

    Raises:
        PlannerError: no such vehicle, or it is faulty.
    """
    find_profile("vehicle", vehicle)  # a misspelt name is told before anything is computed
    return fits_of_vehicle(vehicle)


def print_fits(vehicle: str, found: Sequence[Fit], left_out: Sequence[str]) -> None:
    """Systems slot by slot, those that fit first; for the others what is missing."""
    out = console()
    for slot in dict.fromkeys(fit.slot for fit in found):
        rows = sorted((fit for fit in found if fit.slot == slot), key=lambda f: not f.fits)
        lines = [(fit.system, "fits" if fit.fits else _missing_words(fit)) for fit in rows]
        out.print(table(f"{slot}, in {vehicle}", ("system", ""), lines))
        out.print()
    for line in left_out:
        out.print(f"left out: {line}", soft_wrap=True)


def _missing_words(fit: Fit) -> str:
    rest = len(fit.missing) - 1
    return f"does not: {fit.missing[0]}" + (f"; and {rest} more" if rest else "")


def fits_json(vehicle: str, found: Sequence[Fit], left_out: Sequence[str]) -> str:
    """Systems that fit a vehicle, and those that do not, as JSON text."""
    data = {
        "format": "upgrade-planner fits",
        "version": 1,
        "vehicle": vehicle,
        "systems": [
            {"system": f.system, "slot": f.slot, "fits": f.fits, "missing": list(f.missing)}
            for f in found
        ],
        "left_out": list(left_out),
    }
    return json.dumps(data, indent=1, ensure_ascii=False, sort_keys=True) + "\n"
