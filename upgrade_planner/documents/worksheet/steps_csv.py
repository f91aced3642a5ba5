"""The steps of a work sheet as CSV, one row a step, for a spreadsheet or a shop program."""

from collections.abc import Iterator

from upgrade_planner.configuration.tables.csv_files import csv_text
from upgrade_planner.documents.worksheet.views import SheetView

COLUMNS = (
    "step",
    "phase",
    "place",
    "mark",
    "action",
    "instruction",
    "details",
    "before you start",
    "expected",
    "unit",
    "hold",
    "job",
    "sheet",
    "date",
    "check code",
)
"""The last ones are the same in each row, so that rows of several sheets can stand together."""


def steps_csv(view: SheetView) -> str:
    """The steps as CSV text; a cell that a spreadsheet would compute is made plain text."""
    return csv_text([COLUMNS, *_rows(view)])


def _rows(view: SheetView) -> Iterator[tuple[str, ...]]:
    head = view.identity
    papers = (head.title, head.sheet_number, head.date, head.check_code)
    for phase in view.phases:
        for block in phase.blocks:
            for step in (step for row in block.rows for step in row.steps):
                yield (
                    step.number,
                    f"{phase.letter} {phase.title}",
                    block.place,
                    step.mark,
                    step.action,
                    step.instruction,
                    " | ".join(step.details),
                    step.before_you_start,
                    step.expected,
                    step.measure_unit,
                    step.hold,
                    *papers,
                )
