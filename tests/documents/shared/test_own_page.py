"""Our pages as the PDF engine takes them: with the styles of the elements that they have."""

import re

from short_sheet import CREATED, short_html

from upgrade_planner.configuration.files.shipped import shipped_folder
from upgrade_planner.documents.shared import pdf
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


def printed(html, fillable):
    settings = {"identity": None, "plan_json": None, "created": CREATED}
    return worksheet_pdf(html, fillable=fillable, **settings)


def test_a_page_is_the_same_as_by_the_engines_own_ways(engine, monkeypatch):
    html = short_html().replace("</body>", f"{EVERYTHING}</body>")
    ours = [printed(html, fillable) for fillable in (True, False)]
    ways = pdf_engine().HTML
    monkeypatch.setattr(pdf, "own_page", lambda html, fetch: ways(string=html, url_fetcher=fetch))
    assert [printed(html, fillable) for fillable in (True, False)] == ours


def test_every_element_of_a_template_has_its_style():
    templates = shipped_folder("templates")
    styles = (templates / "shared" / "elements.css").read_text("utf-8")
    styled = set(re.findall(r"[a-z]+[1-3]?", re.sub(r"{.*?}", "", styles, flags=re.DOTALL)))
    for file in sorted(templates.rglob("*.jinja")):
        text = re.sub(r"<svg.*?</svg>", "", file.read_text("utf-8"), flags=re.DOTALL)
        assert set(re.findall(r"<([a-z]+[1-9]?)", text)) <= styled | INLINE, file.name
