"""The survey form as a spreadsheet: printed columns on the left, empty ones to fill beside them."""

from collections.abc import Iterator

from upgrade_planner.configuration.model import Component, Configuration, Wire
from upgrade_planner.configuration.tables.csv_files import csv_text
from upgrade_planner.documents.survey.form_words import expected_words, measure_words, profile_size
from upgrade_planner.documents.words.wording import NBSP, short_length_words
from upgrade_planner.inspection.form_lines import COLUMNS, FORM, OF_VEHICLE, PAPERS
from upgrade_planner.inspection.measuring import Measurement
from upgrade_planner.inspection.walk import Inspection

STRANGERS = 8
"""Lines for wires that are not in the profile."""

ADDED = 4
"""Lines for parts that are not in the profile."""

Cells = dict[str, str]


def form_code(configuration: Configuration) -> str:
    """Check code of the form: it changes when the profile does."""
    return f"{configuration.digest[:4]} {configuration.digest[4:8]}"


def form_mark(configuration: Configuration) -> str:
    """What a form carries unseen: its check code, and of which vehicle it is."""
    return f"{form_code(configuration)}{OF_VEHICLE}{configuration.vehicle.name}"


def survey_csv(inspection: Inspection, units: str, issued: str) -> str:
    """The form as CSV text; a cell that a spreadsheet would compute is made plain text."""
    configuration = inspection.configuration
    papers = dict(zip(PAPERS, (configuration.name, issued), strict=True))
    same = {FORM: form_mark(configuration), **papers}
    rows = ({**row, **same} for row in _rows(inspection, units))
    lines = ([row.get(name, "").replace(NBSP, " ") for name in COLUMNS] for row in rows)
    return csv_text([COLUMNS, *lines])


def _rows(inspection: Inspection, units: str) -> Iterator[Cells]:
    configuration = inspection.configuration
    for found in inspection.measurements:
        if found.kind == "reading":
            what = found.id.replace("-", " ")
            yield {
                "line": "reading",
                "id": found.id,
                "what": what,
                **_measured(found, configuration),
            }
    for stop in inspection.stops:
        for part in stop.parts:
            yield _part(part, stop.place.name, inspection)
        for wire in stop.wires:
            yield _wire(wire, stop.place.name, inspection, units)
    for number in range(1, STRANGERS + 1):
        yield {
            "line": "stranger",
            "id": f"stranger-{number}",
            "what": "a wire that is not in the profile",
        }
    for number in range(1, ADDED + 1):
        what = "a part that is not in the profile: under marked what it is, fed from, grounded to"
        yield {"line": "added", "id": f"added-{number}", "what": what}


def _part(part: Component, place: str, inspection: Inspection) -> Cells:
    found = inspection.measurement_of.get(("part", part.role))
    measured = _measured(found, inspection.configuration) if found else {}
    return {"line": "part", "id": part.role, "place": place, "what": part.name, **measured}


def _wire(wire: Wire, place: str, inspection: Inspection, units: str) -> Cells:
    configuration = inspection.configuration
    found = inspection.measurement_of.get(("wire", wire.id))
    return {
        "line": "wire",
        "id": wire.id,
        "place": place,
        "what": wire.circuit,
        "from": str(wire.start),
        "to": str(wire.end),
        "size": profile_size(wire),
        "colour": wire.colour.code,
        "length": short_length_words(configuration.runs[wire.id].length_m, units),
        **(_measured(found, configuration) if found else {}),
    }


def _measured(found: Measurement, configuration: Configuration) -> Cells:
    return {"measure": measure_words(found, configuration), "expected": expected_words(found)}
