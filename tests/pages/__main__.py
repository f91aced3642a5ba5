"""
Pages, steps, ticks, blank share and seconds of work sheets.

`python -m tests.pages` makes the sheets of the six jobs that have a target, without pictures or
with them (`--drawings`), on A4 or Letter (`--letter`: one page more at most);
`python -m tests.pages FILE.pdf …` measures files. A cell of 5 mm without ink is blank. Needs
`pdftoppm` (package poppler-utils).
"""

import sys
import tempfile
import time
from datetime import date
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "support"))

from blank_share import blank_shares
from sheet_jobs import JOBS, OWN_SALOON

from upgrade_planner.jobs.worksheet import SheetRequest, worksheet


def main() -> None:
    """Prints a line for each file, or for each job that has a target."""
    names = [name for name in sys.argv[1:] if not name.startswith("-")]
    for name in names:
        _print_blank(name, blank_shares(name))
    if not names:
        with tempfile.TemporaryDirectory() as place:
            for before, after, plain, drawn in JOBS:
                most = drawn if "--drawings" in sys.argv else plain
                _make(before, after, most, Path(place))


def _make(before, after, most, place):
    target = place / "sheet.pdf"
    if after.endswith(".toml"):
        (place / after).write_text(OWN_SALOON, encoding="utf-8")
        after = str(place / after)
    started = time.process_time()
    drawings = "--drawings" in sys.argv
    (sheet,) = worksheet(
        SheetRequest(
            before=before,
            after=after,
            target=target,
            issued=date(2026, 1, 2),
            drawings=drawings,
            paper="Letter" if "--letter" in sys.argv else "A4",
        )
    )
    seconds = time.process_time() - started
    ticks = sum(len(row.operations) for row in sheet.plan.rows)
    print(f"{len(sheet.plan.steps)} steps, {ticks} ticks, at most {most} pages, {seconds:.1f} s")
    _print_blank(f"{before} {Path(after).stem}", blank_shares(target))


def _print_blank(name, shares):
    listed = " ".join(f"{share:.0%}" for share in shares)
    print(
        f"{name}: {len(shares)} pages, {sum(shares) / len(shares):.0%} blank: {listed}", flush=True
    )


if __name__ == "__main__":
    main()
