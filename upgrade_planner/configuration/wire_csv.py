"""Wires in a spreadsheet: the same columns as the keys of `wires`, one row a wire."""

import csv
import io
from pathlib import Path

from upgrade_planner.configuration.entries import WireEntry
from upgrade_planner.configuration.files import LARGEST_FILE_BYTES, TomlFile
from upgrade_planner.configuration.model import Configuration, Wire
from upgrade_planner.configuration.structuring import structured
from upgrade_planner.errors import Problem

COLUMNS = (
    "id", "circuit", "from", "to", "size", "colour", "insulation", "conductor", "resistance",
    "length", "route", "if_present", "note",
)  # fmt: skip


def wires_to_csv(configuration: Configuration) -> str:
    """The wires of a configuration as CSV text; `wires_from_csv` reads the same wires back."""
    text = io.StringIO()
    writer = csv.DictWriter(text, COLUMNS, lineterminator="\n")
    writer.writeheader()
    writer.writerows(_row(wire) for wire in configuration.wires)
    return text.getvalue()


def _row(wire: Wire) -> dict[str, str]:
    ohms, length = wire.resistance_ohm, wire.measured_length_m
    return {
        "id": wire.id,
        "circuit": wire.circuit,
        "from": str(wire.start),
        "to": str(wire.end),
        "size": wire.size.label.replace("\N{NO-BREAK SPACE}", " "),
        "colour": wire.colour.code,
        "insulation": wire.insulation.name,
        "conductor": str(wire.conductor),
        "resistance": "" if ohms is None else f"{ohms!r} ohm",
        "length": "" if length is None else f"{length!r} m",
        "route": wire.loom,
        "if_present": "",
        "note": wire.note,
    }


def wires_from_csv(path: Path) -> tuple[tuple[WireEntry, ...], list[Problem]]:
    """The wires of a CSV file and all its problems, each with row and column."""
    name = str(path)
    try:
        if path.stat().st_size > LARGEST_FILE_BYTES:
            problem = Problem(file=name, found="a file over 1 MB", expected="a list of wires")
            return (), [problem]
        text = path.read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError) as error:
        problem = Problem(file=name, found=f"no readable text ({error})", expected="a CSV file")
        return (), [problem]
    return _parsed(name, path, text)


def _parsed(name: str, path: Path, text: str) -> tuple[tuple[WireEntry, ...], list[Problem]]:
    reader = csv.DictReader(io.StringIO(text))
    header = list(reader.fieldnames or [])
    wires: list[WireEntry] = []
    problems = [_unknown_column(name, header, column) for column in header if column not in COLUMNS]
    if problems:
        return (), problems
    for row in reader:
        if None in row:
            found = "more cells than columns"
            problems.append(Problem(file=name, line=reader.line_num, column=1, found=found,
                                    expected=f"{len(header)} cells"))  # fmt: skip
            continue
        data = {key: value.strip() for key, value in row.items() if value and value.strip()}
        entry, faults = structured(WireEntry, TomlFile(name, path, "", data))
        wires += [entry] if entry else []
        problems += [
            Problem(
                file=name,
                line=reader.line_num,
                column=_column(header, fault.origin.path),
                subject=data.get("id", ""),
                found=fault.found,
                expected=fault.expected,
            )
            for fault in faults
        ]
    return tuple(wires), problems


def _column(header: list[str], path: tuple[str | int, ...]) -> int:
    key = path[0] if path else ""
    return header.index(str(key)) + 1 if key in header else 1


def _unknown_column(name: str, header: list[str], column: str) -> Problem:
    return Problem(
        file=name,
        line=1,
        column=header.index(column) + 1,
        found=f"unknown column '{column}'",
        expected="columns " + ", ".join(COLUMNS),
    )
