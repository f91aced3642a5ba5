"""
Every sentence on the work sheets of all ready pairs, sorted, each once: to be read whole.

`python -m tests.sentences > FILE`, `python -m tests.sentences uk > FILE` (by hand; some minutes).
Names of wires and numbers are left out, so that a sentence that differs in them alone stands once;
so are rows that say nothing but which wire or part goes where.
"""

import re
from argparse import ArgumentParser, RawDescriptionHelpFormatter
from collections.abc import Iterator
from html import unescape

from upgrade_planner.comparison.results import Policy
from upgrade_planner.documents.shared.html import worksheet_html
from upgrade_planner.documents.words.english import UK, US, language_for
from upgrade_planner.documents.worksheet.sheet import sheet_view
from upgrade_planner.documents.worksheet.title_block import SheetOptions
from upgrade_planner.electrical.sizing import load_sized
from upgrade_planner.library.pairs import ready_pairs
from upgrade_planner.planning.plan import plan_upgrade

_PLAIN = re.compile(r"Joined at |(?:Was )?#|W…|Along the |Red: |Black: |.* → |× |BK |RD |Ring term")
"""How rows begin that name wires, ways, probes and articles alone."""


def main() -> None:
    """Prints them."""
    asked = ArgumentParser(
        prog="python -m tests.sentences",
        description=__doc__,
        formatter_class=RawDescriptionHelpFormatter,
    )
    asked.add_argument("english", nargs="?", choices=(US, UK), default=US, help="whose words")
    english = asked.parse_args().english
    found: set[str] = set()
    for pair in ready_pairs():
        plan = plan_upgrade(*load_sized(pair.before, pair.after), Policy.REVERSIBLE)
        language = language_for(english, plan.comparison.before.vehicle)
        options = SheetOptions(date="2026-01-02", with_reasons=True, language=language)
        found.update(_sentences(worksheet_html(sheet_view(plan, options))))
    print("\n".join(sorted(found)))


def _sentences(html: str) -> Iterator[str]:
    body = re.sub(r"<(style|svg).*?</\1>|<head>.*?</head>", "", html, flags=re.S)
    for block in re.split(r"</?(?:p|li|td|th|h\d|div|tr|table)\b[^>]*>", body):
        text = " ".join(unescape(re.sub(r"<[^>]*>", "", block)).split())
        text = re.sub(r"\bW\d+ [a-z0-9-]+", "W…", text)
        for sentence in re.split(r"(?<=[.!?:]) (?=[A-Z])", re.sub(r"\d+(\.\d+)?", "#", text)):
            if len(sentence.split()) > 2 and not _PLAIN.match(sentence):
                yield sentence


if __name__ == "__main__":
    main()
