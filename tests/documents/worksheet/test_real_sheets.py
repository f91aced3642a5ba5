"""Work sheets of shipped pairs as PDF: nothing that the plan holds is missing on paper."""

import re
import shutil
from collections import Counter

import pytest
from as_data import data_of
from blank_share import blank_shares
from page_layout import faults_of, printed_and_laid_out
from pair_facts import planned
from pdf_words import page_texts
from sheet_jobs import OWN_SALOON

from upgrade_planner.configuration.loading import load_configuration
from upgrade_planner.documents.shared.html import worksheet_html
from upgrade_planner.documents.worksheet.plan_json import plan_json
from upgrade_planner.documents.worksheet.sheet import sheet_view
from upgrade_planner.documents.worksheet.title_block import SheetOptions, identity_of
from upgrade_planner.planning.plan import plan_upgrade
from upgrade_planner.planning.touched import opened_terminals

PAIRS = [
    ("van_original_resistance", "van_upgraded", "A4"),
    ("tractor_original", "tractor_upgraded", "Letter"),
]
MOST_PAGES = 12
MOST_STEPS = 110
MOST_BLANK_RATIO = 0.28
"""Of the first pair; pages of six: `test_pages_of_sheets`."""
LEAST_LINES = 7


@pytest.fixture(scope="module", params=PAIRS, ids=lambda pair: pair[0])
def sheet(request, tmp_path_factory):
    from datetime import UTC, datetime

    before, after, paper = request.param
    plan = planned(before, after)
    options = SheetOptions(date="2026-03-01")
    view = sheet_view(plan, options)
    content, layout = printed_and_laid_out(
        html := worksheet_html(view, paper=paper),
        identity=identity_of(plan, options),
        plan_json=None,
        created=datetime(2026, 3, 1, tzinfo=UTC),
    )
    path = tmp_path_factory.mktemp("sheet") / "sheet.pdf"
    path.write_bytes(content)
    pages = page_texts(path)
    return plan, view, pages, path, faults_of(html, layout)


def words(pages):
    return re.sub(r"[\s\N{WORD JOINER}]+", " ", " ".join(pages))


def test_demo_keeps_its_pages_and_steps_and_wastes_little_paper(sheet):
    plan, _, pages, path, *_ = sheet
    if plan.comparison.after.name != "van_upgraded":
        pytest.skip("the demo alone has its pages counted here")
    assert len(pages) <= MOST_PAGES
    assert len(plan.steps) <= MOST_STEPS
    if shutil.which("pdftoppm"):
        shares = blank_shares(path)
        assert sum(shares) / len(shares) <= MOST_BLANK_RATIO


def test_every_operation_has_one_tick_and_the_data_name_its_row(sheet):
    """In the plan as data each step names the row that is printed, and each row has its steps."""
    plan, view, *_ = sheet
    rows = {
        row.number: row for phase in view.phases for block in phase.blocks for row in block.rows
    }
    data = data_of(plan_json(plan, SheetOptions(date="2026-03-01"), {}))
    named = Counter(step["row"] for step in data["steps"])
    assert named == {number: len(row.steps) for number, row in rows.items()}
    assert sum(named.values()) == len(plan.operations)


def test_every_row_number_is_printed(sheet):
    plan, _, pages, *_ = sheet
    printed = set(words(pages).split())
    assert {row.number for row in plan.rows} <= printed


def test_every_wire_that_changes_or_shares_a_terminal_with_one_is_printed(sheet):
    plan, view, pages, *_ = sheet
    text = re.sub(r"\s", "", " ".join(pages))
    opened = opened_terminals(plan.comparison)
    near = [
        wire.id
        for configuration in (plan.comparison.before, plan.comparison.after)
        for wire in configuration.wires
        if opened.intersection(wire.ends)
    ]
    for name in near:
        assert name in text, name
    others = len(plan.comparison.after.wires) - len(set(near) & set(ids(plan.comparison.after)))
    assert view.kept_rest.startswith(f"{others} other wire")
    assert re.sub(r"\s", "", view.kept_rest) in text


def test_every_wire_of_both_configurations_is_listed_on_request(sheet):
    plan, *_ = sheet
    every = sheet_view(plan, SheetOptions(date="2026-03-01", with_all_wires=True))
    text = worksheet_html(every)
    assert not every.kept_rest
    for configuration in (plan.comparison.before, plan.comparison.after):
        for name in ids(configuration):
            assert name in text, name


def ids(configuration):
    return [wire.id for wire in configuration.wires]


def test_every_part_of_the_list_is_printed(sheet):
    _, view, pages, *_ = sheet
    text = re.sub(r"\s", "", " ".join(pages))
    for group in view.parts:
        for row in group.rows:
            assert re.sub(r"\s", "", row.item) in text


def test_every_page_can_be_traced(sheet):
    plan, view, pages, *_ = sheet
    for number, page in enumerate(pages, start=1):
        flat = words([page])
        assert view.identity.sheet_number in flat
        assert plan.check_code in flat
        assert f"Page {number} of {len(pages)}" in flat
        assert "Stop if the vehicle differs" in flat


def test_no_page_is_nearly_empty(sheet):
    _, _, pages, *_ = sheet
    for number, page in enumerate(pages, start=1):
        lines = [line for line in page.splitlines() if line.strip()]
        assert len(lines) >= LEAST_LINES, f"page {number}: {lines}"


def test_messages_about_danger_stand_before_the_steps_of_their_phase(sheet):
    _, view, pages, *_ = sheet
    text = words(pages)
    for phase in view.phases:
        start = text.index(f"{phase.letter} {phase.title}")
        first = phase.blocks[0].rows[0].number
        for message in phase.safety:
            at = text.index(message.hazard, start)
            assert at < re.compile(rf"\b{first}\b").search(text, start).start()


def test_no_row_is_cut_and_no_heading_left_alone(sheet):
    *_, faults = sheet
    assert faults == []


def test_last_words_say_when_it_is_complete(sheet):
    _, _, pages, *_ = sheet
    assert "complete when every box above is ticked" in words(pages[-1:])


def test_what_the_vehicle_has_already_is_told_once_and_not_to_be_decided(tmp_path):
    target = tmp_path / "target.toml"
    target.write_text(OWN_SALOON, encoding="utf-8")
    plan = plan_upgrade(load_configuration("saloon_original"), load_configuration(str(target)))
    view = sheet_view(plan, SheetOptions(date="2026-03-01"))
    assert {f.code for f in view.findings if not f.is_old} == {"PWR-GROUND-SIDE"}
    assert {"PROT-NONE", "PROT-FUSE-BIG"} <= {f.code for f in view.findings if f.is_old}
    assert not {"PROT-NONE", "PROT-FUSE-BIG"} & {f.code for f in view.findings_before}
    html = worksheet_html(view)
    assert html.count("fuse block auxiliary, auxiliary-feed, gauge-supply and 10 more") == 1
