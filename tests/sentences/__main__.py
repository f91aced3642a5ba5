"""
Every sentence on the work sheets of all ready pairs, sorted, each once: to be read whole.

`python -m tests.sentences > FILE` (by hand; some minutes). Names of wires and numbers are left out,
so that a sentence that differs in them alone stands once.
"""

import re
import sys
from collections.abc import Iterator
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "support"))

from shipped_pairs import SHIPPED_PAIRS

from upgrade_planner.comparison.results import Policy
from upgrade_planner.documents.shared.html import worksheet_html
from upgrade_planner.documents.worksheet.sheet import sheet_view
from upgrade_planner.documents.worksheet.title_block import SheetOptions
from upgrade_planner.electrical.sizing import load_sized
from upgrade_planner.planning.plan import plan_upgrade

OPTIONS = SheetOptions(date="2026-01-02", with_reasons=True)


def main() -> None:
    """Prints them."""
    found: set[str] = set()
    for before, after in SHIPPED_PAIRS:
        plan = plan_upgrade(*load_sized(before, after), Policy.REVERSIBLE)
        found.update(_sentences(worksheet_html(sheet_view(plan, OPTIONS))))
    print("\n".join(sorted(found)))


def _sentences(html: str) -> Iterator[str]:
    body = re.sub(r"<(style|svg).*?</\1>|<head>.*?</head>", "", html, flags=re.S)
    for block in re.split(r"</?(?:p|li|td|th|h\d|div|tr|table)\b[^>]*>", body):
        text = " ".join(re.sub(r"<[^>]*>", "", block).split())
        text = re.sub(r"\bW\d+ [a-z0-9-]+", "W…", text)
        for sentence in re.split(r"(?<=[.!?:]) (?=[A-Z])", re.sub(r"\d+(\.\d+)?", "#", text)):
            if len(sentence.split()) > 2:
                yield sentence


if __name__ == "__main__":
    main()
