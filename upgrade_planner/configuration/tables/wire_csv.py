"""Wires in a spreadsheet: the same columns as the keys of `wires`, one row a wire."""

import csv
import io
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

from attrs import define, evolve, field

from upgrade_planner.configuration.files.faults import Fault, one_of, quoted
from upgrade_planner.configuration.files.positions import Position, Span
from upgrade_planner.configuration.files.texts import TomlFile, read_text
from upgrade_planner.configuration.model import Configuration, KeyPath, Origin, Wire
from upgrade_planner.configuration.structuring.entries import WireEntry
from upgrade_planner.configuration.structuring.hooks import structured
from upgrade_planner.configuration.structuring.salvage import ANY, Gaps
from upgrade_planner.configuration.tables.spreadsheet import harmless, plain
from upgrade_planner.configuration.values.sizes import AUTO
from upgrade_planner.errors import ConfigurationError, Problem

COLUMNS = (
    "id",
    "circuit",
    "from",
    "to",
    "size",
    "colour",
    "insulation",
    "conductor",
    "resistance",
    "length",
    "route",
    "if_present",
    "note",
)
REQUIRED = COLUMNS[:7]
OTHER_SEPARATORS = {";": "semicolons", "\t": "tabs"}


def wires_to_csv(configuration: Configuration) -> str:
    """The wires of a configuration as CSV text; `wires_from_csv` reads the same wires back."""
    text = io.StringIO()
    # With this line end the writer quotes a note that holds either of its characters.
    writer = csv.DictWriter(text, COLUMNS, lineterminator="\r\n")
    writer.writeheader()
    for wire in configuration.wires:
        writer.writerow({key: harmless(cell) for key, cell in _row(wire).items()})
    return text.getvalue()


def _size(wire: Wire) -> str:
    return "auto" if wire.size == AUTO else wire.size.label.replace("\N{NO-BREAK SPACE}", " ")


def _row(wire: Wire) -> dict[str, str]:
    ohms, length = wire.resistance_ohm, wire.measured_length_m
    return {
        "id": wire.id,
        "circuit": wire.circuit,
        "from": str(wire.start),
        "to": str(wire.end),
        "size": _size(wire),
        "colour": wire.colour.code,
        "insulation": wire.insulation.name,
        "conductor": str(wire.conductor),
        "resistance": "" if ohms is None else f"{ohms!r} ohm",
        "length": "" if length is None else f"{length!r} m",
        "route": wire.loom,
        "if_present": "",
        "note": wire.note,
    }


@define
class WireTable:
    """
    What a CSV file holds.

    Attributes:
        problems: What is wrong with the file as a whole.
        faults: What is wrong with its columns and rows.
        spans: Row and column of every cell, for faults that show up later.
        gaps: The wires that could not be read.
    """

    name: str
    wires: list[WireEntry] = field(factory=list)
    problems: list[Problem] = field(factory=list)
    faults: list[Fault] = field(factory=list)
    spans: dict[KeyPath, Span] = field(factory=dict)
    gaps: Gaps = field(factory=Gaps)


def wires_from_csv(path: Path) -> WireTable:
    """The wires of a CSV file, and all that is wrong with it."""
    table = WireTable(str(path))
    try:
        rows = list(_rows(read_text(path, "a CSV file of wires")))
    except ConfigurationError as error:
        table.problems += error.problems
    except csv.Error as error:
        problem = Problem(file=table.name, found=f"no CSV ({error})", expected="a CSV file")
        table.problems.append(problem)
    else:
        _read_rows(table, path, rows)
    if table.problems or any(not fault.origin.path[1:] for fault in table.faults):
        table.gaps |= Gaps(frozenset({("wire", ANY)}))
    return table


def _rows(text: str) -> Iterator[tuple[int, list[str]]]:
    """Every row that is not empty, with the line it begins in."""
    reader = csv.reader(io.StringIO(text, newline=""))
    line = 1
    for cells in reader:
        if any(cell.strip() for cell in cells):
            yield line, cells
        line = reader.line_num + 1


def _read_rows(table: WireTable, path: Path, rows: list[tuple[int, list[str]]]) -> None:
    if not rows:
        found, expected = "rows without anything in them", "a row of column names, then wires"
        table.problems.append(Problem(file=table.name, found=found, expected=expected))
        return
    header_line, header = rows[0][0], [cell.strip() for cell in rows[0][1]]
    _check_header(table, header_line, header)
    if table.faults:
        return
    for index, (line, cells) in enumerate(rows[1:], 1):
        table.spans[("wires", index)] = _at(line, 1)
        for column, key in enumerate(header, 1):
            table.spans[("wires", index, key)] = _at(line, column)
        if len(cells) > len(header):
            table.spans[("wires", index, ANY)] = _at(line, len(header) + 1)
            origin = Origin(table.name, ("wires", index, ANY))
            found = f"{len(cells)} cells in a row"
            table.faults.append(
                Fault(origin, cells[header.index("id")], found, f"{len(header)}, as in the header")
            )
        _read_wire(table, path, index, dict(zip(header, cells, strict=False)))


def _read_wire(table: WireTable, path: Path, index: int, cells: dict[str, str]) -> None:
    # Spaces round a cell mean nothing, except in a note, which is printed as it stands.
    text = {key: plain(cell) for key, cell in cells.items()}
    data = {key: cell if key == "note" else cell.strip() for key, cell in text.items()}
    data = {key: cell for key, cell in data.items() if cell}
    entry, faults = structured(WireEntry, TomlFile(table.name, path, "", data))
    if entry is not None:
        table.wires.append(evolve(entry, origin=Origin(table.name, ("wires", index))))
        return
    wire = data.get("id", ANY)
    table.gaps |= Gaps(frozenset({("wire", wire)}))
    for fault in faults:
        place = Origin(table.name, ("wires", index, *fault.origin.path))
        table.faults.append(evolve(fault, origin=place, subject=data.get("id", "")))


def _check_header(table: WireTable, line: int, header: list[str]) -> None:
    if len(header) == 1:
        for mark, words in OTHER_SEPARATORS.items():
            if mark in header[0]:
                found = f"columns separated by {words}"
                _refuse_column(table, line, 1, found, "columns separated by commas")
                return
    counted = Counter(header)
    for number, column in enumerate(header, 1):
        if column not in COLUMNS:
            expected = one_of(column, COLUMNS, limit=len(COLUMNS))
            _refuse_column(table, line, number, f"unknown column {quoted(column)}", expected)
        elif counted[column] > 1 and column in header[: number - 1]:
            found = f"column {quoted(column)} a second time"
            _refuse_column(table, line, number, found, "each column once")
    for column in REQUIRED:
        if column not in header:
            expected = f"the columns {', '.join(REQUIRED)}, and more if wanted"
            _refuse_column(table, line, len(header), f"no column '{column}'", expected)


def _refuse_column(table: WireTable, line: int, number: int, found: str, expected: str) -> None:
    path = (f"column {number}",)
    table.spans[path] = _at(line, number)
    table.faults.append(Fault(Origin(table.name, path), "", found, expected))


def _at(line: int, column: int) -> Span:
    return Span(None, Position(line, column))
