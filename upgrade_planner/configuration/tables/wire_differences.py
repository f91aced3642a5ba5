"""A spreadsheet of wires against a configuration: what was changed, added and taken out in it."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.composing.changes import with_one_size
from upgrade_planner.configuration.files.faults import FieldFault, one_of, quoted
from upgrade_planner.configuration.files.toml_files import TomlFile
from upgrade_planner.configuration.model import OTHER_POST, Configuration, Joint, Wire
from upgrade_planner.configuration.structuring.entries import WireEntry
from upgrade_planner.configuration.structuring.hooks import structured
from upgrade_planner.configuration.tables.cells import decimal_point
from upgrade_planner.configuration.tables.spreadsheet import Row, Table
from upgrade_planner.errors import ConfigurationError, Problem

WITH_NUMBERS = ("size", "resistance", "length")
MAY_BE_EMPTIED = ("route", "note")

Entry = dict[str, Any]


@frozen(kw_only=True)
class WireDifferences:
    """
    Entries as profiles write them.

    A wire whose measured length was taken out stands both in `remove` and in `add`: a change
    cannot take a length away.
    """

    remove: tuple[str, ...]
    change: tuple[Entry, ...]
    add: tuple[Entry, ...]


def spreadsheet_differences(table: Table, configuration: Configuration) -> WireDifferences:
    """
    What a spreadsheet of wires says differently from a configuration.

    Args:
        table: Columns as `wires_to_csv` writes them.
        configuration: The configuration, sizes as its profile states them.

    Raises:
        ConfigurationError: cells that cannot be read, ends that do not exist; all of them.
    """
    problems: list[Problem] = []
    read = [found for row in table.rows for found in _read(row, table, configuration, problems)]
    problems += _repeated(read)
    if problems:
        raise ConfigurationError(problems)
    remove = [w.id for w in configuration.wires if w.id not in {entry.id for entry, _, _ in read}]
    change, add = [], []
    for entry, cells, _ in read:
        old = configuration.wire_by_id.get(entry.id)
        if old is None:
            add.append(cells)
        elif entry.length is None and old.measured_length_m is not None:
            remove.append(entry.id)
            add.append(cells)
        elif changed := _changed(entry, cells, old, configuration):
            change.append({"id": entry.id, **changed})
    return WireDifferences(remove=tuple(remove), change=tuple(change), add=tuple(add))


def _read(
    row: Row, table: Table, configuration: Configuration, problems: list[Problem]
) -> Iterator[tuple[WireEntry, Entry, Row]]:
    cells = {key: _cell(key, text, table) for key, text in row.cells.items()}
    made = structured(WireEntry, TomlFile(row.file, Path(row.file), "", dict(cells)))
    entry, subject = made.content, cells.get("id", "")
    for fault in made.faults:
        column = str(fault.origin.path[0]) if fault.origin.path else "id"
        problems.append(row.problem(column, fault.found, fault.expected, subject))
    if entry is None:
        return
    before = len(problems)
    if entry.if_present is not None:
        found = f"the condition {quoted(entry.if_present)} on a wire of one vehicle"
        problems.append(row.problem("if_present", found, "an empty cell", subject))
    for column, written in (("from", entry.start), ("to", entry.end)):
        if _end(written, configuration) not in _ends(configuration):
            found = f"no terminal {quoted(written)} that takes a wire"
            expected = one_of(written, _ends(configuration))
            problems.append(row.problem(column, found, expected, subject))
    if len(problems) == before:
        yield entry, cells, row


def _cell(key: str, text: str, table: Table) -> str:
    if key == "note":
        return text.replace("\r\n", "\n")
    stripped = text.strip()
    if key not in WITH_NUMBERS:
        return stripped
    return decimal_point(stripped, is_european=table.is_european)


def _repeated(read: list[tuple[WireEntry, Entry, Row]]) -> Iterator[Problem]:
    first: dict[str, Row] = {}
    for entry, _, row in read:
        if entry.id in first:
            found = (
                f"the wire {quoted(entry.id)} a second time (the first is in row "
                f"{first[entry.id].line})"
            )
            yield row.problem("id", found, "another id", entry.id)
        first.setdefault(entry.id, row)


def _ends(configuration: Configuration) -> list[str]:
    return [
        f"{part.role}.{terminal.name}"
        for part in configuration.components
        for terminal in part.terminals
        if terminal.connection.joint is not Joint.CASE
    ]


def _end(written: str, configuration: Configuration) -> str:
    """The terminal by its own name, where `live` or `grounded` stands for a post."""
    role, _, name = written.partition(".")
    part = configuration.component_by_role.get(role)
    names = {terminal.name for terminal in part.terminals} if part else set()
    if name not in ("live", "grounded") or not {"positive", "negative"} <= names:
        return written
    grounded = configuration.vehicle.ground
    live = OTHER_POST[grounded]
    return f"{role}.{live if name == 'live' else grounded}"


def _changed(entry: WireEntry, cells: Entry, old: Wire, configuration: Configuration) -> Entry:
    """The cells of one wire that mean something else than before."""
    chosen = with_one_size(entry, configuration.vehicle.size_system)
    sound = entry if isinstance(chosen, FieldFault) else chosen  # a fault is told in loading
    pairs = {
        "circuit": (entry.circuit, old.circuit),
        "from": (_end(entry.start, configuration), str(old.start)),
        "to": (_end(entry.end, configuration), str(old.end)),
        "size": (sound.size.options[0], old.given_size),
        "colour": (entry.colour, old.colour),
        "insulation": (sound.insulation.options[0], old.insulation),
        "conductor": (entry.conductor, old.conductor),
        "resistance": (entry.resistance, old.resistance_ohm),
        "length": (entry.length, old.measured_length_m),
        "route": (entry.route, old.loom),
        "note": (entry.note, old.note.replace("\r\n", "\n")),
    }
    differing = [key for key, (new, before) in pairs.items() if new != before]
    if "size" in differing and "insulation" not in differing:
        differing.append("insulation")  # profiles may have one for each of several sizes
    entry_of: Entry = {}
    for key in differing:
        if key in cells:
            entry_of[key] = cells[key]
        elif key in MAY_BE_EMPTIED:
            entry_of[key] = ""
        elif key == "conductor":
            entry_of[key] = str(entry.conductor)
        # ohms that are gone went with the resistance wire: its new conductor says so
    return entry_of
