"""What the PDF engine is spared."""

import subprocess
import sys

from short_sheet import pdf_of, short_html

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
    spared = pdf_of(html)
    monkeypatch.setattr(pdf, "sheet_without_notes", lambda: pdf_engine().html.UA_STYLESHEET)
    assert LIST in html
    assert pdf_of(html) == spared
