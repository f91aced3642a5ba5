"""
How tall the first sections of a sheet come to stand on paper, so that pictures find room there.

Lines are broken by the widths of the shipped faces; type, columns and padding are those of
`worksheet.css`. It is enough to be right within a few lines: what is placed by it may be pushed to
the next page, never cut.
"""

import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from functools import cache

from upgrade_planner.configuration.files.shipped import shipped_folder
from upgrade_planner.documents.drawings.lettering import MM_PER_POINT, wrapped
from upgrade_planner.documents.worksheet.picture_views import WhereView
from upgrade_planner.documents.worksheet.views import (
    FindingView,
    SafetyMessage,
    ScheduleRow,
    SheetView,
    SummaryRow,
)

WIDTH = 180.0
"""Between the margins of the narrower paper. [mm]"""
_BODY, _LEADING = 10.0, 1.165
_HEADING = 7.3
_TABLE_HEAD = 5.6
_CELL_PADDING = 2.0
_BOLD = 1.06
"""How much wider bold letters are."""
_COLUMN_STYLE = re.compile(r"\.([a-z]-[a-z]+) \{ width: ([\d.]+)mm \}")

CHANGED: Mapping[str, Callable[[ScheduleRow], str]] = {
    "w-mark": lambda row: row.mark,
    "w-action": lambda row: row.action,
    "": lambda row: f"{row.ends} {row.reason}",
    "w-conductor": lambda row: row.conductor,
}
"""What stands in a wire that changes, by the class of the column; "" has the width that is left."""

Cells = Sequence[tuple[str, float]]
"""Text and width of each cell. [mm]"""


def title_height(view: SheetView) -> float:
    """From the top of the first page to the end of the key to the lines. [mm]"""
    who = view.identity
    vehicle = ", ".join(filter(None, (who.vehicle, who.serial_number, who.owner)))
    half, quarter = WIDTH / 2 - 2.4, WIDTH / 4 - 2.4
    rows = (
        _row([(who.before, half), (who.after, half)], padding=5.3),
        12.1,
        _row([(vehicle, quarter), (who.policy, quarter), (who.date, quarter)], padding=5.3),
    )
    key = max(_row([(one.meaning, WIDTH / len(view.counts) - 2.4)], 8.5) for one in view.counts)
    dangers = [finding for finding in view.findings if finding.severity == "danger"]
    panel = 8.0 + 5.0 * len(dangers) if dangers else 0.0
    return 7.0 + sum(rows) + _row([(view.intro, WIDTH)]) + key + 10.5 + panel


def where_table_height(where: WhereView) -> float:
    """The list of looms below the view from above. [mm]"""
    rows = ([(f"{row.where}: {row.between}", 57.0), (row.what, 98.0)] for row in where.rows)
    return _TABLE_HEAD + sum(max(5.2, _row(cells, 9.0, 0.65, 1.1)) for cells in rows)


def rows_height(view: SheetView, first: int, end: int) -> float:
    """Some rows of the wires that change, with what stands above the first, below the last. [mm]"""
    height = sum(_row(list(_changed_cells(row)), 9.5, 1.05) for row in view.changed[first:end])
    if end == len(view.changed):
        height += _row([(view.changed_colours, WIDTH)], 8.5, 0.5)
    return height if first else height + _HEADING + _TABLE_HEAD


def _changed_cells(row: ScheduleRow) -> Iterator[tuple[str, float]]:
    widths = _column_widths()
    left = WIDTH - sum(widths[name] for name in CHANGED if name)
    for name, text in CHANGED.items():
        room = (widths[name] if name else left) - _CELL_PADDING
        yield text(row), room / (_BOLD if name == "w-mark" else 1)


@cache
def _column_widths() -> Mapping[str, float]:
    """Width of columns by class, as the style sheet has it. [mm]"""
    styles = (shipped_folder("templates") / "worksheet" / "worksheet.css").read_text("utf-8")
    return {name: float(width) for name, width in _COLUMN_STYLE.findall(styles)}


def section_height(view: SheetView, section: str) -> float:
    """Another section by the name of its template; 0 if it is left out. [mm]"""
    return _HEIGHTS[section](view)


def _findings(view: SheetView) -> float:
    height = _HEADING
    if view.findings_before:
        told = (f"{_named(finding)} {finding.what}" for finding in view.findings_before)
        height += _HEADING + _listed(told)
    decided = [finding for finding in view.findings if not finding.is_old]
    left = [finding for finding in view.findings if finding.is_old]
    for finding in decided:
        width = WIDTH - 2 if finding.severity == "note" else WIDTH - 42
        text = f"{_named(finding)} {finding.code} {finding.what} Remedy: {finding.remedy}"
        height += _row([(text, width)], 9.5, 1.9)
    if left:
        graver = [one for one in left if one.severity != "note"]
        notes = " ".join(f"{one.title} ({one.where});" for one in left if one.severity == "note")
        told_left = [
            f"{_named(one)} {one.code} {one.title}. Remedy: {one.remedy}" for one in graver
        ]
        height += 6.0 + _listed([*told_left, *([notes] if notes else ())])
    return height if decided or left else height + 5


def _named(finding: FindingView) -> str:
    return f"{finding.severity.upper()}, {finding.where}:"


def _listed(texts: Iterable[str]) -> float:
    return sum(_row([(text, WIDTH - 8)], 9.0, 0.3) for text in texts)


def _job(view: SheetView) -> float:
    tables = (
        _table(view.summary, (32.0, 71.0, 71.0)),
        _table(view.conversion, (68.0, 18.0, 88.0), 6.0),
        max(_table(view.notice[side::2], (41.0, 18.0, 18.0), 6.0) for side in (0, 1)),
        _table(view.found, (32.0, 71.0, 71.0), 6.0),
    )
    remarks = [view.as_found_note, *view.remarks]
    height = sum(tables) + _listed(filter(None, remarks))
    return _HEADING + height if height else 0.0


def _table(rows: Sequence[SummaryRow], widths: Sequence[float], heading: float = 0.0) -> float:
    if not rows:
        return 0.0
    cells = (zip((row.subject, row.before, row.after), widths, strict=True) for row in rows)
    return heading + _TABLE_HEAD + 1.6 + sum(_row(list(one), 9.8, 1.05) for one in cells)


def _prepare(view: SheetView) -> float:
    if not view.tools:
        return 0.0
    texts = [f"{tool.name}: {tool.use}" for tool in view.tools] + list(view.start_conditions)
    room = (WIDTH - 6) / 2 - 6.5
    return _HEADING + sum(max(5.6, _row([(text, room)], 9.0, 0.8, 1.1)) for text in texts) / 2 + 3


def _safety(view: SheetView) -> float:
    return _HEADING + sum(map(_panel, view.safety)) if view.safety else 0.0


def _panel(message: SafetyMessage) -> float:
    text = f"{message.hazard} {message.avoid} If it happens: {message.if_it_happens}"
    return _row([(text, WIDTH - 33)], padding=3.9)


def _row(
    cells: Cells, points: float = _BODY, padding: float = 0.0, leading: float = _LEADING
) -> float:
    """A row as tall as its tallest cell. [mm]"""
    lines = max(len(wrapped(text, width, points)) for text, width in cells)
    return lines * points * MM_PER_POINT * leading + padding


_HEIGHTS: Mapping[str, Callable[[SheetView], float]] = {
    "findings": _findings,
    "job": _job,
    "prepare": _prepare,
    "safety": _safety,
}
