"""Tables for the terminal, readable in eighty columns and without colour."""

from collections.abc import Iterable, Sequence

from rich.console import Console
from rich.table import Table
from rich.text import Text

from upgrade_planner.checks.findings import Finding
from upgrade_planner.comparison.results import Comparison, Disposition, PartDisposition, WireChange
from upgrade_planner.configuration.model import Configuration
from upgrade_planner.documents.steps import ends_words
from upgrade_planner.documents.wording import conductor_words, length_words, role_words
from upgrade_planner.planning.plan import count_words

NARROWEST = 80


def console() -> Console:
    """Standard output; no mark-up is read from profile text, so that it prints as written."""
    plain = Console(highlight=False, markup=False, emoji=False)
    if not plain.is_terminal:
        return Console(highlight=False, markup=False, emoji=False, width=140)
    return plain


def table(title: str, headings: Sequence[str], rows: Iterable[Sequence[str]]) -> Table:
    """A table of plain text."""
    made = Table(title=Text(title), title_justify="left", expand=False, box=None, pad_edge=False)
    for heading in headings:
        made.add_column(Text(heading, style="bold"), overflow="fold", vertical="top")
    for row in rows:
        made.add_row(*(Text(cell) for cell in row))
    return made


def print_comparison(comparison: Comparison, *, everything: bool, units: str) -> None:
    """What happens to each part and wire; kept ones only if `everything` is asked for."""
    out = console()
    before, after = comparison.before, comparison.after
    out.print(Text(f"{before.vehicle.title}: {before.title} → {after.title}"), soft_wrap=True)
    out.print(f"policy {comparison.policy}; wires: {count_words(comparison)}", soft_wrap=True)
    parts = [
        (str(p.disposition).upper(), role_words(p.role), p.reason)
        for p in comparison.parts
        if everything or p.disposition is not PartDisposition.KEEP
    ]
    if parts:
        out.print()
        out.print(table("Parts", ("", "part", "why"), parts))
    wires = [
        (
            str(change.disposition).upper(),
            change.mark,
            ends_words(after if change.after else before, change.wire.ends),
            _sizes(change, units),
            change.reason,
        )
        for change in comparison.wires
        if everything or change.disposition is not Disposition.KEEP
    ]  # fmt: skip
    if wires:
        out.print()
        out.print(table("Wires", ("", "wire", "ends", "conductor", "why"), wires))
    if comparison.is_empty:
        out.print("Nothing differs.")


def _sizes(change: WireChange, units: str) -> str:
    before, after = (
        conductor_words(wire, units) if wire else "" for wire in (change.before, change.after)
    )
    if before and after and before != after:
        return f"{before} → {after}"
    return after or before


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


def print_findings(findings: Iterable[Finding]) -> None:
    """Findings, gravest first."""
    out = console()
    for finding in findings:
        out.print(
            Text(f"{str(finding.severity).upper()} {finding.code} {', '.join(finding.where)}: "
                 f"{finding.what} {finding.remedy}"), soft_wrap=True)  # fmt: skip
