"""
Turns HTML into PDF.

Nothing is fetched but our own two fonts and what the page holds itself, and the bytes depend on the
arguments alone.
"""

from __future__ import annotations

import gc
import logging
import os
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, date, datetime
from typing import TYPE_CHECKING, Any

from upgrade_planner.documents.shared.engine import pdf_engine
from upgrade_planner.documents.shared.html import FONT_FILES, FONT_SCHEME, font_file
from upgrade_planner.documents.shared.own_page import forget_styles, own_page
from upgrade_planner.errors import PlannerError

if TYPE_CHECKING:
    from upgrade_planner.documents.worksheet.title_block import Identity

PLAN_NAME = "upgrade-plan.json"
PICTURES = ("data:image/svg+xml;base64,", "data:image/png;base64,")
SLOWER_SUBSET = "Using fontTools instead of HarfBuzz-Subset"  # harmless: the paper is the same
NO_GLYPH = ".notdef glyph rendered for Unicode string unsupported by fonts:"


class RenderingFault(PlannerError):
    """
    The PDF engine met something that a sheet must not contain.

    Attributes:
        complaints: What the engine said, one text each.
    """

    def __init__(self, complaints: list[str]) -> None:
        self.complaints = tuple(complaints)
        super().__init__("the PDF was not written: " + "; ".join(complaints))


def page_pdf(html: str, issued: date, *, fillable: bool = False) -> bytes:
    """A paper without an attachment, dated at the start of its day of issue; as `worksheet_pdf`."""
    return worksheet_pdf(
        html, identity=None, plan_json=None, created=midnight(issued), fillable=fillable
    )


def midnight(issued: date) -> datetime:
    """Start of the day, UTC."""
    return datetime(issued.year, issued.month, issued.day, tzinfo=UTC)


def worksheet_pdf(
    html: str,
    *,
    identity: Identity | None,
    plan_json: str | None,
    created: datetime,
    fillable: bool = False,
) -> bytes:
    """
    The sheet as a tagged PDF (PDF/UA-1), the plan attached.

    Args:
        html: From `worksheet_html`, without embedded fonts.
        identity: Names the attachment's sheet; None only without an attachment.
        plan_json: The plan as data, attached as "upgrade-plan.json"; None for none.
        created: Written as date of the file and its attachment; a time without zone counts as UTC.
        fillable: True if inputs become fields that a PDF viewer can fill.

    Returns:
        The file. Equal arguments give equal bytes.

    Raises:
        MissingLibrary: system libraries of the PDF engine are missing.
        RenderingFault: the engine complained, or the HTML asks for anything but our fonts.
    """
    engine = pdf_engine()
    moment = created if created.tzinfo else created.replace(tzinfo=UTC)
    with _without_collection(), _font_dates(moment), _complaints_are_faults():
        document = own_page(html, fonts_only()).render(pdf_variant="pdf/ua-1", pdf_forms=fillable)
        metadata = document.metadata
        metadata.created = metadata.modified = moment.isoformat(timespec="seconds")
        if plan_json is not None and identity is not None:
            metadata.attachments.append(
                engine.Attachment(
                    string=plan_json,
                    name=PLAN_NAME,
                    description=f"Plan of sheet {identity.sheet_number} as data",
                    created=moment,
                    modified=moment,
                    url_fetcher=fonts_only(),
                )
            )
        content: bytes = document.write_pdf(
            pdf_variant="pdf/ua-1", pdf_forms=fillable, finisher=_own_appearances
        )
    return content


def _own_appearances(_: Any, pdf: Any) -> None:
    """
    Ticks are drawn as the file has them.

    The engine asks viewers to draw all fields anew; some then leave ticked boxes empty.
    """
    if "AcroForm" in pdf.catalog:
        pdf.catalog["AcroForm"]["NeedAppearances"] = "false"


def fonts_only() -> Any:
    """Gives our two fonts, and pictures inside the page, and stops the run at any other address."""
    from weasyprint.urls import FatalURLFetchingError, URLFetcher, URLFetcherResponse

    class FontsOnly(URLFetcher):  # type: ignore[misc]
        def fetch(self, url: str, headers: Any = None) -> Any:
            scheme, _, name = url.partition(":")
            if url.startswith(PICTURES):
                return super().fetch(url, headers)
            if scheme != FONT_SCHEME or name not in FONT_FILES:
                raise FatalURLFetchingError(f"a sheet may not fetch '{url[:200]}'")
            body = font_file(name).read_bytes()
            return URLFetcherResponse(url, body, {"Content-Type": "font/ttf"})

    return FontsOnly()


class _Listener(logging.Handler):
    """Keeps what the engine complains of."""

    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.complaints: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        message = record.getMessage()
        if not message.startswith(SLOWER_SUBSET):
            self.complaints.append(message.replace(NO_GLYPH, "the fonts have no character"))


@contextmanager
def _complaints_are_faults() -> Iterator[None]:
    """A warning means that the paper differs from what the template says: no sheet then."""
    from weasyprint.urls import FatalURLFetchingError

    logger = logging.getLogger("weasyprint")
    listener = _Listener()
    logger.addHandler(listener)
    try:
        yield
    except FatalURLFetchingError as error:
        raise RenderingFault([str(error)]) from error
    finally:
        logger.removeHandler(listener)
    if listener.complaints:
        forget_styles()
        raise RenderingFault(listener.complaints)


@contextmanager
def _without_collection() -> Iterator[None]:
    """Layout makes few cycles and many objects; collecting them took up to half of the time."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


@contextmanager
def _font_dates(moment: datetime) -> Iterator[None]:
    """
    Dates the fonts inside the file.

    Where libharfbuzz-subset is missing, another library cuts the fonts down and writes the time of
    day into them, unless this variable of the environment says otherwise.
    """
    name = "SOURCE_DATE_EPOCH"
    before = os.environ.get(name)
    os.environ[name] = str(max(0, int(moment.timestamp())))
    try:
        yield
    finally:
        if before is None:
            del os.environ[name]
        else:
            os.environ[name] = before
