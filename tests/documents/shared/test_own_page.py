"""Our pages as the PDF engine takes them: quickly, and as if it took its own ways."""

import re
import subprocess
import sys

from short_sheet import CREATED, short_html

from upgrade_planner.configuration.files.shipped import shipped_folder
from upgrade_planner.documents.shared.engine import pdf_engine
from upgrade_planner.documents.shared.pdf import worksheet_pdf

INLINE = {"a", "span", "label"}
"""Elements that have no style of their own."""

EVERYTHING = """
<form><ul><li>one</li><li>two<br>three</li></ul><ol><li>four</li></ol><h3>five</h3>
<input type="checkbox" name="six" title="six"><input type="text" name="seven" title="seven">
<svg viewBox="0 0 9 9"><title>eight</title><g><path d="M1 1H8" stroke="#000"/></g></svg>
<table><colgroup><col></colgroup><thead><tr><th>nine</th></tr></thead><tbody><tr><td>ten</td></tr>
</tbody></table></form>
"""
TEXT = "A long line that breaks more than once on this page, and has its hyphen-ation.\n" * 3
PICTURE = '<svg width="90" height="9"><text x="5" y="8" font-size="6">15 → 54d</text></svg>'
BOX = (
    "margin: 1% auto 1mm 10%; width: 40%; position: relative; border-radius: 2mm; background: #ddd"
)
LINES = "".join(
    f'<div style="{BOX}"><p style="text-align: {align}; text-decoration: {under}; '
    f'white-space: {space}">{TEXT}<b>{TEXT}</b>{PICTURE}</p></div>'
    for align in ("left", "justify")
    for under in ("none", "underline")
    for space in ("normal", "pre-line")
)
BY_THE_ENGINES_OWN_WAYS = """
import sys
from datetime import datetime
from upgrade_planner.documents.shared import engine, pdf
for way in ("style_quickly", "lay_out_quickly", "draw_quickly", "draw_plain_borders"):
    setattr(engine, way, lambda: None)
pdf.own_page = lambda html, fetch: engine.pdf_engine().HTML(string=html, url_fetcher=fetch)
fields, lines = sys.stdin.read().split(chr(12))
created = datetime.fromisoformat(sys.argv[1])
for html, fillable in ((fields, True), (lines, False)):
    settings = {"identity": None, "plan_json": None, "created": created, "fillable": fillable}
    sys.stdout.buffer.write(pdf.worksheet_pdf(html, **settings))
"""


def test_a_page_is_the_same_as_by_the_engines_own_ways(engine, monkeypatch):
    pdf_engine()
    from weasyprint import draw

    monkeypatch.setattr(draw, "draw_border", draw.draw_border.__wrapped__)
    fields = short_html().replace("</body>", f"{EVERYTHING}</body>")
    lines = fields.replace("</body>", f"{LINES}{LINES}</body>")
    settings = {"identity": None, "plan_json": None, "created": CREATED}
    ours = [
        worksheet_pdf(html, fillable=fillable, **settings)
        for html, fillable in ((fields, True), (lines, False))
    ]
    theirs = subprocess.run(
        [sys.executable, "-c", BY_THE_ENGINES_OWN_WAYS, CREATED.isoformat()],
        input=f"{fields}\f{lines}".encode(),
        capture_output=True,
        check=True,
    )
    assert b"".join(ours) == theirs.stdout


def test_every_element_of_a_template_has_its_style():
    templates = shipped_folder("templates")
    styles = (templates / "shared" / "elements.css").read_text("utf-8")
    styled = set(re.findall(r"[a-z]+[1-3]?", re.sub(r"{.*?}", "", styles, flags=re.DOTALL)))
    for file in sorted(templates.rglob("*.jinja")):
        text = re.sub(r"<svg.*?</svg>", "", file.read_text("utf-8"), flags=re.DOTALL)
        assert set(re.findall(r"<([a-z]+[1-9]?)", text)) <= styled | INLINE, file.name


def test_no_space_holds_a_text_to_an_element():
    """The engine would break the line at the first space of that text in place of the last."""
    templates = shipped_folder("templates")
    held = [
        f"{path.relative_to(templates)}: {found}"
        for path in sorted(templates.glob("*/*.jinja"))
        for found in re.findall(r"\w+&#160;<[^>]*>", path.read_text("utf-8"))
    ]
    assert not held
