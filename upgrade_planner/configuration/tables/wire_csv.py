"""Wires in a spreadsheet: the same columns as the keys of `wires`, one row a wire."""

from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from attrs import evolve

from upgrade_planner.configuration.files.faults import Fault, Sources, one_of, quoted
from upgrade_planner.configuration.files.loaded import ANY, Gaps, Loaded
from upgrade_planner.configuration.files.positions import KeyPath, Origin, Position, Span
from upgrade_planner.configuration.files.texts import read_text
from upgrade_planner.configuration.files.toml_files import TomlFile
from upgrade_planner.configuration.model import Configuration, Wire
from upgrade_planner.configuration.structuring.connections import rings_text
from upgrade_planner.configuration.structuring.entries import WireEntry
from upgrade_planner.configuration.structuring.hooks import structured
from upgrade_planner.configuration.tables.cells import plain
from upgrade_planner.configuration.tables.csv_files import (
    COMMA_HINT,
    SEPARATORS,
    NoTable,
    csv_rows,
    csv_text,
)
from upgrade_planner.configuration.values.sizes import size_text
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
    "condition",
    "rings",
    "note",
)
REQUIRED = COLUMNS[:7]
_BETWEEN = ", "
"""Between several conditions in one cell."""


def wires_to_csv(configuration: Configuration) -> str:
    """The wires of a configuration as CSV text; `wires_from_csv` reads the same wires back."""
    return csv_text([COLUMNS, *(tuple(_row(wire).values()) for wire in configuration.wires)])


def _row(wire: Wire) -> dict[str, str]:
    ohms, length = wire.resistance_ohm, wire.measured_length_m
    return {
        "id": wire.id,
        "circuit": wire.circuit,
        "from": str(wire.start),
        "to": str(wire.end),
        "size": size_text(wire.given_size),
        "colour": wire.colour.code,
        "insulation": wire.insulation.name,
        "conductor": str(wire.conductor),
        "resistance": "" if ohms is None else f"{ohms!r} ohm",
        "length": "" if length is None else f"{length!r} m",
        "route": wire.loom,
        "if_present": "",
        "condition": _BETWEEN.join(map(str, wire.condition)),
        "rings": rings_text(wire.rings),
        "note": wire.note,
    }


Wires = Loaded[tuple[WireEntry, ...]]
"""Wires of a CSV file; its sources tell row and column of every cell, for faults found later."""

_ALL_WIRES = Gaps.of_any("wire")


def wires_from_csv(path: Path) -> Wires:
    """The wires of a CSV file, and all that is wrong with it."""
    name = str(path)
    try:
        rows = list(csv_rows(read_text(path, "a CSV file of wires")))
    except ConfigurationError as error:
        return Loaded((), gaps=_ALL_WIRES, problems=error.problems)
    except NoTable as error:
        return _unusable(name, f"no CSV ({error})", "a CSV file")
    if not rows:
        return _unusable(name, "rows without anything in them", _WHOLE)
    header_line, header = rows[0][0], [cell.strip() for cell in rows[0][1]]
    amiss = list(_header_faults(header))
    if amiss:
        return _with_bad_header(name, header_line, amiss)
    read = [_row_of(path, index, header, cells) for index, (_, cells) in enumerate(rows[1:], 1)]
    spans = {
        key: span
        for index, (line, cells) in enumerate(rows[1:], 1)
        for key, span in _spans(index, line, header, cells)
    }
    wires = tuple(wire for row in read for wire in row.content)
    return Loaded(wires, sources=Sources(spans={name: spans})).after(*read)


_WHOLE = "a row of column names, then wires"


def _unusable(name: str, found: str, expected: str) -> Wires:
    problem = Problem(file=name, found=found, expected=expected)
    return Loaded((), gaps=_ALL_WIRES, problems=(problem,))


def _spans(
    index: int, line: int, header: list[str], cells: list[str]
) -> Iterator[tuple[KeyPath, Span]]:
    """Where a row and its cells stand; a cell beyond the header has the name ANY."""
    yield ("wires", index), _at(line, 1)
    for column, key in enumerate(header, 1):
        yield ("wires", index, key), _at(line, column)
    if len(cells) > len(header):
        yield ("wires", index, ANY), _at(line, len(header) + 1)


def _row_of(path: Path, index: int, header: list[str], cells: list[str]) -> Wires:
    """The wire of a row, or none, and what is wrong with it."""
    held = dict(zip(header, cells, strict=False))
    wire = _wire_of(path, index, held)
    is_short = len(cells) < len(header) and len(wire.faults) > 1
    if len(cells) <= len(header) and not is_short:
        return wire
    # what else is wrong with the row follows from its cells standing in wrong columns
    origin = Origin(str(path), ("wires", index, *((ANY,) if not is_short else ())))
    found = f"{len(cells)} cells in a row"
    expected = f"{len(header)}, as in the header; {COMMA_HINT}"
    subject = held.get("id", "").strip()
    return Loaded((), (Fault(origin, subject, found, expected),), _ALL_WIRES)


def _wire_of(path: Path, index: int, cells: dict[str, str]) -> Wires:
    # Spaces round a cell mean nothing, except in a note, which is printed as it stands.
    text = {key: plain(cell) for key, cell in cells.items()}
    held = {key: cell if key == "note" else cell.strip() for key, cell in text.items()}
    data: dict[str, Any] = {key: cell for key, cell in held.items() if cell}
    if "condition" in data:
        data["condition"] = [one.strip() for one in data["condition"].split(_BETWEEN.strip())]
    row = Origin(str(path), ("wires", index))
    read = structured(WireEntry, TomlFile(row.file, path, "", data))
    if read.content is not None:
        return Loaded((evolve(read.content, origin=row),))
    faults = tuple(
        evolve(
            fault,
            origin=Origin(row.file, (*row.path, *fault.origin.path)),
            subject=data.get("id", ""),
        )
        for fault in read.faults
    )
    return Loaded((), faults, Gaps.of_any("wire", name=data.get("id", ANY)))


ColumnFault = tuple[int, str, str]
"""Number of a column from 1, what was found, what was expected."""


def _with_bad_header(name: str, line: int, amiss: list[ColumnFault]) -> Wires:
    spans: dict[KeyPath, Span] = {}
    faults = []
    for number, found, expected in amiss:
        path = (f"column {number}",)
        spans[path] = _at(line, number)
        faults.append(Fault(Origin(name, path), "", found, expected))
    return Loaded((), tuple(faults), _ALL_WIRES, sources=Sources(spans={name: spans}))


def _header_faults(header: list[str]) -> Iterator[ColumnFault]:
    if len(header) == 1:
        for mark, words in SEPARATORS.items():
            if mark != "," and mark in header[0]:
                yield 1, f"columns separated by {words}", "columns separated by commas"
                return
    counted = Counter(header)
    if not counted.keys() & set(COLUMNS):  # another file: none of its cells are shown
        yield 1, "no column of a table of wires", f"the columns {', '.join(REQUIRED)}"
        return
    for number, column in enumerate(header, 1):
        if column not in COLUMNS:
            expected = one_of(column, COLUMNS, limit=len(COLUMNS))
            yield number, f"unknown column {quoted(column)}", expected
        elif counted[column] > 1 and column in header[: number - 1]:
            yield number, f"column {quoted(column)} a second time", "each column once"
    for column in REQUIRED:
        if column not in header:
            expected = f"the columns {', '.join(REQUIRED)}, and more if wanted"
            yield len(header), f"no column '{column}'", expected


def _at(line: int, column: int) -> Span:
    return Span(None, Position(line, column))
