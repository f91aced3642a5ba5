"""The table of readings on the work sheet."""

import re

from pair_facts import planned

from upgrade_planner.documents.shared.html import worksheet_html
from upgrade_planner.documents.worksheet.sheet import SheetOptions, sheet_view


def test_rows_have_leads_ranges_limit_and_suspects():
    plan = planned("van_original_ballast", "van_upgraded")
    view = sheet_view(plan, SheetOptions(date="2026-01-01"))
    rows = {reading.id: row for reading, row in zip(plan.readings, view.tests, strict=True)}
    supply = rows["unit-supply"]
    assert supply.red == "distributor terminal BAT, engine, left side"
    assert supply.black == "bare metal of the engine"
    assert supply.before.endswith("at coil terminal 15a")
    assert "ignition-feed" in supply.if_not
    assert rows["battery-cranking"].limit == (
        "min 9.6 V at 21 °C, 9.4 V at 10 °C, 9.1 V at −1 °C, 8.5 V at −18 °C"
    )
    assert [row.number for row in view.tests] == [f"T{n + 1}" for n in range(len(view.tests))]
    html = worksheet_html(view)
    table = html[html.index('<table class="tests"') :]
    table = table[: table.index("</table>")]
    assert table.count('class="reading"') == len(view.tests)
    assert not re.search(r"[±<>]\s*\d", re.sub(r"<[^>]*>", "", table))
