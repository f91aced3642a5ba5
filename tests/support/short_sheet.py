"""A work sheet of one phase as PDF: enough for what does not depend on the length."""

from datetime import UTC, datetime
from functools import cache

from attrs import evolve
from pair_facts import printed_once
from sample import sheet

from upgrade_planner.documents.shared.html import worksheet_html
from upgrade_planner.documents.shared.pdf import worksheet_pdf

CREATED = datetime(2026, 1, 2, 3, 4, 5, tzinfo=UTC)
PAGE = '<html lang="en"><title>x</title><header>x</header>'
"""As little as the engine makes a page of."""
PLAN = '{"steps": 47, "size": "10 mm²"}\n'


def pdf_of(html, plan=PLAN, created=CREATED):
    return worksheet_pdf(html, identity=sheet().identity, plan_json=plan, created=created)


@cache
def short_html(**changes):
    """A sheet of one phase: enough for what does not depend on the length."""
    first = sheet().phases[:1]
    return worksheet_html(
        evolve(sheet(), phases=first, changed=(), kept=(), parts=(), record=(), **changes)
    )


@cache
def short():
    """That sheet as a file, made once in a run: what others are compared with."""
    return printed_once(short_html(), identity=sheet().identity, plan_json=PLAN, created=CREATED)
