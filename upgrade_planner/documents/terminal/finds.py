"""Finds and fits on the screen and as data."""

from collections.abc import Sequence

from upgrade_planner.documents.shared.data_text import data_text
from upgrade_planner.documents.terminal.console import console, table
from upgrade_planner.documents.terminal.list_shapes import (
    FINDS,
    FITS,
    FindsData,
    FitsData,
    FoundData,
    TraitData,
)
from upgrade_planner.documents.terminal.spoken import said
from upgrade_planner.documents.words.misfits import misfit_words
from upgrade_planner.library.collected import LeftOut, Shipped
from upgrade_planner.library.finds import VEHICLE, Finds
from upgrade_planner.library.fitting import Fit
from upgrade_planner.library.traits import Traits, subjects

ALWAYS_SHOWN = ("charging", "ignition")


def print_finds(finds: Finds, english: str = "") -> None:
    """The configurations as a table; what exists instead, if there are none."""
    out = console()
    if finds.shipped:
        extra = [n for n in finds.filters if n not in (VEHICLE, "voltage", "ground")]
        columns = tuple(dict.fromkeys((*ALWAYS_SHOWN, *extra)))
        titles = (said(subjects()[n].title, english) for n in columns)
        headings = ("configuration", "supply", *titles)
        shown = table("", headings, [_row(one, columns, english) for one in finds.shipped])
        for column in shown.columns[: len(headings) - len(columns)]:
            column.no_wrap = True  # a name in two pieces cannot be copied
        out.print(shown)
        out.print()
        out.print("What each would change: upgrade-planner list --from NAME")
    else:
        _print_nothing(finds, english)
    print_left_out(finds.left_out, english)


def _row(one: Shipped, columns: Sequence[str], english: str) -> tuple[str, ...]:
    supply = one.traits["voltage"].words + (
        " neg." if one.configuration.vehicle.ground == "negative" else " pos."
    )
    traits = (one.traits[name] for name in columns)
    words = (t.brief or t.words or "not stated" for t in traits)
    return (one.name, supply, *(said(text, english) for text in words))


def _print_nothing(finds: Finds, english: str) -> None:
    out = console()
    out.print("No shipped configuration is all of that. What exists:")
    for name, text in finds.filters.items():
        count = finds.alone[name]
        found = f"{count} with '{text}'" if count else f"none with '{text}'"
        exists = "; ".join(finds.existing[name]) or "nothing is stated"
        out.print(f"--{name} ({found}): {said(exists, english)}")


def print_left_out(left_out: Sequence[LeftOut], english: str = "") -> None:
    """What could not be used, one line each."""
    for one in left_out:
        console().print(f"left out: {one.name}: {said(one.reason, english)}")


def finds_json(finds: Finds) -> str:
    """The configurations with their traits as JSON text."""
    data: FindsData = {
        "filters": dict(finds.filters),
        "configurations": [shipped_data(one) for one in finds.shipped],
        "existing": {name: list(values) for name, values in finds.existing.items()},
        "left_out": [{"name": one.name, "reason": one.reason} for one in finds.left_out],
    }
    return data_text(FINDS, data)


def shipped_data(one: Shipped) -> FoundData:
    """One configuration as plain data."""
    return {
        "name": one.name,
        "title": one.configuration.title,
        "vehicle": one.configuration.vehicle.name,
        "systems": dict(one.configuration.systems),
        "traits": traits_data(one.traits),
    }


def traits_data(traits: Traits) -> dict[str, TraitData]:
    """Traits as plain data: ids for programs, words for people."""
    return {name: {"ids": list(t.ids), "words": t.words} for name, t in traits.items()}


def print_fits(
    vehicle: str, found: Sequence[Fit], left_out: Sequence[str], english: str = ""
) -> None:
    """Systems slot by slot, those that fit first; for the others what is missing."""
    out = console()
    for slot in dict.fromkeys(fit.slot for fit in found):
        rows = sorted((fit for fit in found if fit.slot == slot), key=lambda f: not f.fits)
        told = ((fit.system, "fits" if fit.fits else _missing_words(fit)) for fit in rows)
        lines = [(name, said(text, english)) for name, text in told]
        out.print(table(f"{slot}, in {vehicle}", ("system", ""), lines))
        out.print()
    for line in left_out:
        out.print(f"left out: {said(line, english)}")


def _missing_words(fit: Fit) -> str:
    rest = len(fit.missing) - 1
    return f"does not: {misfit_words(fit.missing[0])}" + (f"; and {rest} more" if rest else "")


def fits_json(vehicle: str, found: Sequence[Fit], left_out: Sequence[str]) -> str:
    """Systems that fit a vehicle, and those that do not, as JSON text."""
    data: FitsData = {
        "vehicle": vehicle,
        "systems": [
            {"system": f.system, "slot": f.slot, "fits": f.fits, "missing": list(f.missing)}
            for f in found
        ],
        "left_out": list(left_out),
    }
    return data_text(FITS, data)
