"""A work sheet as the pages show it: that of a shipped pair, with names that pages stumble over."""

from functools import cache

from attrs import evolve
from pair_facts import planned

from upgrade_planner.documents.worksheet.sheet import sheet_view
from upgrade_planner.documents.worksheet.title_block import SheetOptions
from upgrade_planner.documents.worksheet.views import FindingView

MARKUP = "<b>&\"front' loom</b>"
LONG_MARK = "instrument-panel-voltage-stabiliser-output-to-temperature-transmitter"
UNBROKEN_MARK = "W" + "1234567890" * 4

FINDINGS = tuple(
    FindingView(
        severity=severity,
        code=code,
        where="charge-output",
        what="the current is larger than the wire carries",
        remedy="fit the next size",
    )
    for severity, code in (("warning", "AA-1"), ("danger", "BB-2"), ("note", "CC-3"))
)


@cache
def sheet():
    plan = planned("van_as_found", "van_upgraded")
    options = SheetOptions(
        date="2026-03-01",
        sheet_number="WS-0042",
        revision="B",
        with_record=True,
        with_all_wires=True,
    )
    view = sheet_view(plan, options)
    first, second, *others = view.changed
    return evolve(
        view,
        identity=evolve(view.identity, owner=MARKUP),
        changed=(evolve(first, mark=LONG_MARK), evolve(second, mark=UNBROKEN_MARK), *others),
        findings=FINDINGS,
    )


def all_rows(view=None):
    return [
        row for phase in (view or sheet()).phases for block in phase.blocks for row in block.rows
    ]
