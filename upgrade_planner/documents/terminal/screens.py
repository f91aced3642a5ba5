"""Screens: a configuration, a comparison, the readings of all states."""

import shlex
from collections.abc import Iterator
from itertools import groupby

from upgrade_planner.comparison.part_changes import PartChange, PartKept
from upgrade_planner.comparison.results import Comparison
from upgrade_planner.comparison.wire_changes import Disposition, IntoTarget, Kept, WireChange
from upgrade_planner.configuration.model import Configuration, Wire
from upgrade_planner.documents.terminal.console import console
from upgrade_planner.documents.terminal.spoken import Spoken
from upgrade_planner.documents.terminal.states import (
    LEAST_CLAMPED_A,
    LEAST_SHOWN_A,
    main_voltages,
    reading_row,
    wire_rows,
)
from upgrade_planner.documents.words.quantities import counted
from upgrade_planner.documents.words.reasons import reason_words
from upgrade_planner.documents.words.wire_words import conductor_words
from upgrade_planner.documents.words.wording import length_words, role_words, terminal_words
from upgrade_planner.documents.worksheet.notice import amperes, volts
from upgrade_planner.documents.worksheet.wire_steps import ends_words
from upgrade_planner.electrical.operating_points import OperatingPoint
from upgrade_planner.planning.plan import count_words
from upgrade_planner.planning.state_readings import Survey


def print_comparison(
    comparison: Comparison,
    typed: tuple[str, str],
    *,
    everything: bool,
    units: str,
    english: str = "",
) -> None:
    """
    What happens to each part and wire, a block for each; kept ones only if they are asked for.

    Args:
        comparison: Of two configurations.
        typed: Their names or files, as the next command needs them.
        everything: Whether kept parts and wires are shown.
        units: `metric`, `us` or `both`.
        english: `us` or `uk`; "" for that of the vehicle's trade.
    """
    before, after = comparison.before, comparison.after
    out = Spoken(english, before.vehicle)
    parts = [one for one in comparison.parts if everything or not isinstance(one, PartKept)]
    wires = [one for one in comparison.wires if everything or not isinstance(one, Kept)]
    if comparison.is_empty:
        out.line("Nothing differs.", style="bold")
    else:
        out.line(f"Wires: {count_words(comparison)}. Policy: {comparison.policy}.", style="bold")
    out.line(f"{before.vehicle.title}: {before.title} → {after.title}")
    if not comparison.is_empty:
        out.command(f"Next: upgrade-planner worksheet {shlex.join(typed)} -o sheet.pdf")
    for title, blocks in (
        ("Parts", [(_part_head(one), [reason_words(one.reasons, units)]) for one in parts]),
        ("Wires", [_wire_block(one, comparison, units) for one in _by_disposition(wires)]),
    ):
        if blocks:
            out.line()
            out.line(title, style="bold underline")
            for head, lines in blocks:
                out.block(head, lines)


def _part_head(change: PartChange) -> str:
    return f"{str(change.disposition).upper()} {role_words(change.role)}"


def _by_disposition(changes: list[WireChange]) -> list[WireChange]:
    return sorted(changes, key=lambda one: list(Disposition).index(one.disposition))


def _wire_block(change: WireChange, comparison: Comparison, units: str) -> tuple[str, list[str]]:
    seen = comparison.after if isinstance(change, IntoTarget) else comparison.before
    ends = ends_words(seen, change.wire.ends)
    lines = [ends, reason_words(change.reasons, units)]
    action = str(change.disposition).upper()
    return f"{action} {change.mark}  {_sizes(change, units)}", [one for one in lines if one]


def _sizes(change: WireChange, units: str) -> str:
    return " → ".join(dict.fromkeys(conductor_words(wire, units) for wire in change.wires))


def print_profile(profile: Configuration | str, units: str, english: str = "") -> None:
    """A configuration as blocks; a text, as a vehicle or system is written, as it stands."""
    if isinstance(profile, str):
        console().print(profile, soft_wrap=True)
    else:
        print_configuration(profile, units, english)


def print_configuration(configuration: Configuration, units: str, english: str = "") -> None:
    """Parts by place and wires by circuit, with their runs."""
    vehicle = configuration.vehicle
    out = Spoken(english, vehicle)
    out.line(f"{vehicle.title}: {configuration.title}", style="bold")
    out.line(configuration.summary)
    facts = f"{vehicle.voltage_v:g} V, {vehicle.ground} ground"
    size = f"{len(configuration.components)} parts, {counted(len(configuration.wires), 'wire')}"
    out.line(f"{facts}; {size}; systems: {'; '.join(configuration.system_titles.values())}")
    if configuration.as_found_note:
        out.line(f"As found: {configuration.as_found_note}")
    for place in configuration.places:
        ours = [part for part in configuration.components if part.place == place.id]
        if ours:
            out.line()
            lines = [f"{one.role}: {one.name}{_found(one.as_found)}" for one in ours]
            out.block(f"At: {place.name}", lines)
    for circuit, wires in groupby(_by_circuit(configuration), key=lambda wire: wire.circuit):
        out.line()
        out.line(f"Circuit: {circuit}", style="bold")
        for wire in wires:
            length = length_words(configuration.runs[wire.id].length_m, units)
            conductor = f"{conductor_words(wire, units)}, {length}"
            out.line(f"{wire.id}{_found(wire.as_found)}  {conductor}", indent=2)
            out.line(ends_words(configuration, wire.ends), indent=4)


def _by_circuit(configuration: Configuration) -> list[Wire]:
    order = {one.circuit: number for number, one in reversed(list(enumerate(configuration.wires)))}
    return sorted(configuration.wires, key=lambda wire: order[wire.circuit])


def _found(is_as_found: object) -> str:
    return " (as found)" if is_as_found else ""


def print_survey(survey: Survey, english: str = "", *, everything: bool = False) -> None:
    """
    What a meter can take, state by state: readings to expect, voltages, currents in its reach.

    Args:
        survey: The computed states.
        english: `us` or `uk`; "" for that of the vehicle's trade.
        everything: Small currents, drops and temperatures of all wires, too.
    """
    configuration = survey.configuration
    out = Spoken(english, configuration.vehicle)
    out.line(f"{configuration.vehicle.title}: {configuration.title}", style="bold")
    for state, point in survey.points.items():
        out.line()
        out.line(f"{state.title} ({state.name})", style="bold underline")
        if point is None:
            out.line("No solution: the wiring contradicts itself in this state.", indent=2)
            continue
        if not point.settled:
            told = "Some wire is far above its range; its figures are a lower bound."
            out.line(told, indent=2)
        for reading in survey.readings:
            if reading.point.state == state.name:
                leads, expected, limit = reading_row(reading, survey)
                out.block(expected, [leads, f"Limit: {limit}"], indent=2)
        _print_point(out, point, everything=everything)


def _print_point(out: Spoken, point: OperatingPoint, *, everything: bool) -> None:
    voltages = [(words, volts(value)) for _, words, value in main_voltages(point)]
    out.table("", ("against the grounded post", ""), voltages)
    shown = 5 if everything else 3
    headings = ("wire", "current", "to", "drop", "conductor")[:shown]
    least_a = LEAST_SHOWN_A if everything else LEAST_CLAMPED_A
    rows = [row[:shown] for row in _wires(point, least_a)]
    if rows:
        out.table("", headings, rows)


def _wires(point: OperatingPoint, least_a: float) -> Iterator[tuple[str, ...]]:
    wires = {wire.id: wire for wire in point.configuration.wires}
    for row in wire_rows(point, least_a):
        end = wires[row.wire].ends[row.current_a > 0]
        yield (
            row.wire,
            amperes(abs(row.current_a)),
            terminal_words(point.configuration, end),
            volts(abs(row.drop_v)),
            f"{row.temperature_c:.0f} °C",
        )
