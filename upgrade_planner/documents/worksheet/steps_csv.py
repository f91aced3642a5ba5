"""The steps of a work sheet as CSV, one row a step, for a spreadsheet or a shop program."""

import csv
import io

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
)

_LIVE = ("=", "+", "-", "@", "\t", "\r")


def steps_csv(view: SheetView) -> str:
    """The steps as CSV text; a cell that a spreadsheet would compute is made plain text."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    for phase in view.phases:
        for block in phase.blocks:
            for step in block.steps:
                row = (
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
                )
                writer.writerow([plain_cell(cell) for cell in row])
    return text.getvalue()


def plain_cell(text: str) -> str:
    """The text, with a leading apostrophe if a spreadsheet would take it for a formula."""
    return f"'{text}" if text.startswith(_LIVE) else text
