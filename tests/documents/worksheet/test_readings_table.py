"""The table of readings on the work sheet."""

import re

from pair_facts import planned, viewed

from upgrade_planner.documents.shared.html import worksheet_html
from upgrade_planner.documents.words.findings import finding_words

BALLAST = ("van_original_ballast", "van_upgraded")
SALOON = ("saloon_original", "saloon_trigger_positive")


def test_rows_have_leads_ranges_limit_and_suspects():
    plan = planned(*BALLAST)
    view = viewed(*BALLAST, with_record=True)
    rows = {reading.id: row for reading, row in zip(plan.readings, view.record, strict=True)}
    supply = rows["unit-supply"]
    assert supply.red == "distributor terminal 15, engine, left side"
    assert supply.black == "bare metal of the engine"
    assert supply.before.endswith("at coil terminal 15a")
    assert "ignition-feed" in supply.if_not
    assert rows["battery-cranking"].limit == (
        "min 9.6 V at 21 °C, 9.4 V at 10 °C, 9.1 V at −1 °C, 8.5 V at −18 °C"
    )
    assert view.sources[int(rows["battery-cranking"].source) - 1].startswith("TM 10-3930")
    assert [row.number for row in view.record] == [f"T{n + 1}" for n in range(len(view.record))]
    html = worksheet_html(view)
    assert html.count('class="reading"') == len(view.record)
    assert not re.search(r"[±<>]\s*\d", re.sub(r"<[^>]*>", "", html))


def test_sources_of_findings_are_numbered_and_stand_at_the_end():
    plan, view = planned(*SALOON), viewed(*SALOON)
    assert view.findings
    assert len(set(view.sources)) == len(view.sources)
    for finding, shown in zip(plan.findings, view.findings, strict=True):
        source = finding_words(finding, "both").source
        assert f"({source})" not in shown.what
        if shown.is_old:  # told by its title and remedy
            assert shown.severity != "danger"
            continue
        assert view.sources[int(re.search(r"\[(\d+)\]", shown.what)[1]) - 1] == source


def test_figures_that_stay_are_not_told():
    """Another trigger changes the spark, not the drain with the ignition off."""
    told = {row.subject: row for row in viewed(*SALOON).notice}
    assert "coil at 3000 r/min" in told
    assert all(row.before != row.after for row in told.values())


def test_page_with_all_readings_only_on_request():
    assert viewed(*BALLAST).record == ()


def test_reasons_only_on_request():
    told, silent = viewed(*BALLAST, with_reasons=True), viewed(*BALLAST)
    assert any(row.reason for row in told.changed)
    assert not any(row.reason for row in silent.changed)
    assert "<b>Why:</b>" in worksheet_html(told)
    assert "<b>Why:</b>" not in worksheet_html(silent)
