"""Screens: a configuration, a comparison, the readings of all states."""

from rich.text import Text

from upgrade_planner.comparison.part_changes import PartKept
from upgrade_planner.comparison.results import Comparison
from upgrade_planner.comparison.wire_changes import IntoTarget, Kept, WireChange
from upgrade_planner.configuration.model import Configuration
from upgrade_planner.documents.terminal.console import console, table
from upgrade_planner.documents.terminal.spoken import Spoken
from upgrade_planner.documents.terminal.states import (
    LEAST_SHOWN_A,
    main_voltages,
    reading_row,
    wire_rows,
)
from upgrade_planner.documents.words.reasons import reason_words
from upgrade_planner.documents.words.wire_words import conductor_words
from upgrade_planner.documents.words.wording import length_words, role_words
from upgrade_planner.documents.worksheet.notice import amperes, volts
from upgrade_planner.documents.worksheet.wire_steps import ends_words
from upgrade_planner.electrical.operating_points import OperatingPoint
from upgrade_planner.planning.plan import count_words
from upgrade_planner.planning.state_readings import Survey


def print_comparison(
    comparison: Comparison, *, everything: bool, units: str, english: str = ""
) -> None:
    """What happens to each part and wire; kept ones only if `everything` is asked for."""
    before, after = comparison.before, comparison.after
    out = Spoken(english, before.vehicle)
    out.line(f"{before.vehicle.title}: {before.title} → {after.title}")
    out.line(f"policy {comparison.policy}; wires: {count_words(comparison)}")
    parts = [
        (str(p.disposition).upper(), role_words(p.role), reason_words(p.reasons, units))
        for p in comparison.parts
        if everything or not isinstance(p, PartKept)
    ]
    if parts:
        out.line()
        out.table("Parts", ("", "part", "why"), parts)
    wires = [
        (
            str(change.disposition).upper(),
            change.mark,
            ends_words(after if isinstance(change, IntoTarget) else before, change.wire.ends),
            _sizes(change, units),
            reason_words(change.reasons, units),
        )
        for change in comparison.wires
        if everything or not isinstance(change, Kept)
    ]
    if wires:
        out.line()
        out.table("Wires", ("", "wire", "ends", "conductor", "why"), wires)
    if comparison.is_empty:
        out.line("Nothing differs.")


def _sizes(change: WireChange, units: str) -> str:
    return " → ".join(dict.fromkeys(conductor_words(wire, units) for wire in change.wires))


def print_profile(profile: Configuration | str, units: str) -> None:
    """A configuration as tables; a text, as a vehicle or system is written, as it stands."""
    if isinstance(profile, str):
        console().print(profile, soft_wrap=True)
    else:
        print_configuration(profile, units)


def print_configuration(configuration: Configuration, units: str) -> None:
    """Parts by place and wires with their runs."""
    out = console()
    vehicle = configuration.vehicle
    out.print(Text(f"{vehicle.title}: {configuration.title}"), soft_wrap=True)
    out.print(Text(configuration.summary), soft_wrap=True)
    facts = f"{vehicle.voltage_v:g} V, {vehicle.ground} ground"
    out.print(
        f"{facts}; systems: {'; '.join(configuration.system_titles.values())}", soft_wrap=True
    )
    if configuration.as_found_note:
        out.print(Text(f"As found: {configuration.as_found_note}"), soft_wrap=True)
    parts = [
        (place.name, part.role, part.name + (" (as found)" if part.as_found else ""))
        for place in configuration.places
        for part in configuration.components
        if part.place == place.id
    ]
    out.print()
    out.print(table("Parts", ("place", "role", "part"), parts))
    wires = [
        (
            wire.id + (" (as found)" if wire.as_found else ""),
            wire.circuit,
            ends_words(configuration, wire.ends),
            conductor_words(wire, units),
            length_words(configuration.runs[wire.id].length_m, units),
        )
        for wire in configuration.wires
    ]
    out.print()
    out.print(table("Wires", ("wire", "circuit", "ends", "conductor", "length"), wires))


def print_survey(survey: Survey, english: str = "") -> None:
    """Main voltages, wire currents and expected readings, state by state."""
    configuration = survey.configuration
    out = Spoken(english, configuration.vehicle)
    out.line(f"{configuration.vehicle.title}: {configuration.title}")
    for state, point in survey.points.items():
        out.line()
        out.line(f"{state.name}: {state.title}", style="bold")
        if point is None:
            out.line("  No solution: the wiring contradicts itself in this state.")
            continue
        if not point.settled:
            out.line("  Some wire is far above its range; its figures are a lower bound.")
        _print_point(out, point)
        ours = [reading for reading in survey.readings if reading.point.state == state.name]
        if ours:
            rows = [reading_row(reading, survey) for reading in ours]
            out.table("", ("reading", "red / black lead", "expected", "limit"), rows)


def _print_point(out: Spoken, point: OperatingPoint) -> None:
    voltages = [(words, volts(value)) for _, words, value in main_voltages(point)]
    out.table("", ("against the grounded post", ""), voltages)
    wires = [
        (row.wire, amperes(row.current_a), volts(row.drop_v), f"{row.temperature_c:.0f} °C")
        for row in wire_rows(point, LEAST_SHOWN_A)
    ]
    if wires:
        out.table("", ("wire", "current", "drop", "conductor"), wires)
