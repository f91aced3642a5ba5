"""The table of findings: which code stands in which shipped configuration."""

from textwrap import wrap

from pair_facts import codes
from places import GOLDEN

from upgrade_planner.configuration.files.shipped import shipped_profiles

TABLE = GOLDEN / "findings_of_shipped.txt"
NAMES = sorted(shipped_profiles("configuration"))
MOST = "*"
"""Stands for the names where a note is in most."""

_LINE = 100


def table():
    """Configurations by code; of a code that stands in most, only "*"."""
    lines = TABLE.read_text(encoding="utf-8").replace("\n    ", " ").splitlines()
    rows = (line.split(": ") for line in lines if line and not line.startswith("#"))
    return {code: names.split() for code, names in rows}


def table_text():
    """The table as it would be written today."""
    stands: dict[str, list[str]] = {}
    for name in NAMES:
        for code in codes(name):
            stands.setdefault(code, []).append(name)
    stands |= {code: [MOST] for code, names in table().items() if names == [MOST]}
    head, *_ = TABLE.read_text(encoding="utf-8").splitlines()
    rows = (
        wrap(f"{c}: {' '.join(stands[c])}", _LINE, subsequent_indent="    ") for c in sorted(stands)
    )
    return "\n".join([head, "", *(line for row in rows for line in row)]) + "\n"
