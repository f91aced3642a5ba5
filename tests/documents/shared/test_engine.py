"""What the PDF engine is spared."""

import subprocess
import sys

from upgrade_planner.documents.shared.engine import NOT_FOR_OUR_PAGES

MADE_ELSEWHERE = """
import sys, weasyprint
page = "<dl><dd>one<ol type=a><li>two</ol><q>three</q></dl><a href=#x>four</a><input value=5>"
content = weasyprint.HTML(string=page).write_pdf(uncompressed_pdf=True, presentational_hints=True)
sys.stdout.buffer.write(content)
"""


def test_what_our_pages_do_not_need_is_not_imported_but_is_there():
    code = (
        "import sys\n"
        "from upgrade_planner.documents.shared.engine import pdf_engine\n"
        "pdf_engine()\n"
        "from weasyprint.pdf import fonts\n"
        f"assert not set({NOT_FOR_OUR_PAGES!r}) & set(sys.modules)\n"
        "assert fonts.subset.Options(retain_gids=True).retain_gids\n"
        "assert fonts.ttFont.getTableClass('glyf').__name__ == 'table__g_l_y_f'\n"
    )
    subprocess.run([sys.executable, "-c", code], check=True)


def test_pages_that_are_not_ours_are_as_without_us():
    with_us = (
        f"from upgrade_planner.documents.shared.engine import pdf_engine\npdf_engine()\n"
        f"{MADE_ELSEWHERE}"
    )
    alone, beside = (
        subprocess.run([sys.executable, "-c", code], check=True, capture_output=True).stdout
        for code in (MADE_ELSEWHERE, with_us)
    )
    assert alone.startswith(b"%PDF")
    assert beside == alone
