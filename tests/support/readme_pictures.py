"""The two pictures of README: a page of the demo's sheet, and a terminal."""

import io
import re
from datetime import date

import pypdf
from places import GOLDEN, ROOT
from rich import _export_format
from rich.console import Console

from upgrade_planner.checks.checking import check
from upgrade_planner.documents.terminal import findings, spoken
from upgrade_planner.electrical.sizing import load_sized
from upgrade_planner.jobs.worksheet import SheetRequest, worksheet

FOLDER = ROOT / "templates" / "pictures"
PAGE_PICTURE = FOLDER / "worksheet-page.png"
PAGE_WORDS = GOLDEN / "worksheet-page.txt"
"""What stands on the page of the picture: text tells sooner than dots that it is old."""
TERMINAL_PICTURE = FOLDER / "terminal.svg"

PAGE = 7
SHOWN = "van_as_found"
COLUMNS = 80


def demo_pdf(folder):
    """The demo's work sheet, as README's first command writes it."""
    target = folder / "demo.pdf"
    worksheet(
        SheetRequest(
            before="van_original_resistance",
            after="van_upgraded",
            target=target,
            issued=date(2026, 3, 1),
        )
    )
    return target


def words_of(pdf):
    """The words of the page that is shown."""
    text = pypdf.PdfReader(pdf).pages[PAGE - 1].extract_text()
    return "\n".join(" ".join(line.split()) for line in text.splitlines() if line.strip()) + "\n"


def terminal_svg():
    """The findings of a vehicle as a terminal shows them."""
    (configuration,) = load_sized(SHOWN)
    screen = Console(
        file=io.StringIO(), record=True, width=COLUMNS, force_terminal=True, highlight=False
    )
    told, spoken.console = spoken.console, lambda: screen
    try:
        title = f"{configuration.vehicle.title}: {configuration.title}"
        findings.print_findings(check(configuration), configuration, "both", title=title)
    finally:
        spoken.console = told
    plain = re.sub(
        r"@font-face \{\{.*?\}\}\s*|<!--.*?-->", "", _export_format.CONSOLE_SVG_FORMAT, flags=re.S
    )
    plain = re.sub(r"(font-family: )[^;]*;", r"\1monospace;", plain)
    return screen.export_svg(
        title=f"upgrade-planner check {SHOWN}", code_format=plain, unique_id="terminal"
    )
