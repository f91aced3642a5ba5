"""Tables have one home: what reads or writes one elsewhere would guard formulas in its own way."""

import re
from pathlib import Path

from every_case import every_case

import upgrade_planner
from upgrade_planner.configuration.tables.cells import harmless, is_live, plain
from upgrade_planner.configuration.tables.csv_files import csv_bytes, csv_rows, csv_text

PACKAGE = Path(upgrade_planner.__file__).parent
HOME = PACKAGE / "configuration" / "tables"
MODULES = [path for path in sorted(PACKAGE.rglob("*.py")) if HOME not in path.parents]


def test_no_other_module_writes_csv_or_touches_a_workbook():
    for path in MODULES:
        text = path.read_text(encoding="utf-8")
        assert not re.search(r"csv\.(writer|DictWriter|reader)\b|openpyxl|utf-8-sig", text), path


def test_every_csv_begins_with_the_mark_and_reads_back():
    content = csv_bytes(csv_text([("size", "ohms"), ("1 mm²", "0.1 Ω")]))
    assert content.startswith(b"\xef\xbb\xbf")
    assert list(csv_rows(content.decode())) == [(1, ["size", "ohms"]), (2, ["1 mm²", "0.1 Ω"])]


@every_case("text", ["=1", "+1", "-1", "@a", " =1", "\t=1", "\r=1", "\n=1"])
def test_a_guarded_text_is_live_no_more(text):
    assert is_live(text)
    assert not is_live(harmless(text))
    assert plain(harmless(text)) == text
