"""What the PDF engine is spared."""

import subprocess
import sys

import pytest
from short_sheet import pdf_of, short_html

from upgrade_planner.documents.shared import engine as spared
from upgrade_planner.documents.shared import pdf
from upgrade_planner.documents.shared.engine import FOR_OTHER_FONTS, pdf_engine

LIST = "<ul><li>one</li><li>two<ol><li>three</li></ol></li></ul>"


def test_tools_for_other_fonts_are_not_imported_but_are_there():
    code = (
        "import sys\n"
        "from upgrade_planner.documents.shared.engine import pdf_engine\n"
        "pdf_engine()\n"
        "from weasyprint.pdf import fonts\n"
        f"assert not set({FOR_OTHER_FONTS!r}) & set(sys.modules)\n"
        "assert fonts.subset.Options(retain_gids=True).retain_gids\n"
    )
    subprocess.run([sys.executable, "-c", code], check=True)


def test_a_page_is_the_same_without_styles_for_notes(engine, monkeypatch):
    html = short_html().replace("</body>", f"{LIST}</body>")
    printed = pdf_of(html)
    monkeypatch.setattr(pdf, "sheet_without_notes", lambda: pdf_engine().html.UA_STYLESHEET)
    assert LIST in html
    assert pdf_of(html) == printed


@pytest.mark.parametrize("align", ["left", "justify"])
def test_a_line_is_drawn_as_if_set_anew(engine, monkeypatch, align):
    style = f"text-align: {align}; text-decoration: underline; white-space: pre-line"
    text = "A long line that breaks more than once on this page, and has its hyphen-ation.\n" * 5
    picture = '<svg width="90" height="9"><text x="5" y="8" font-size="6">15 → 54d</text></svg>'
    html = short_html().replace("</body>", f'<p style="{style}">{text}{picture}</p></body>')
    printed = pdf_of(html)
    forgetful = spared._kept_lines().__base__
    monkeypatch.setattr(spared, "_kept_lines", lambda: forgetful)
    assert pdf_of(html) == printed
