"""
Writes golden files anew: `python -m tests.golden [NAME …]`; read what changed before you keep it.

Names are those of files in this folder; without any all are written: findings of what is shipped,
kit lists, quotations, an invoice. The screens have `python -m tests.screens`.
"""

import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "support"))

from golden_papers import INVOICE, LISTS, OFFERS, invoice_made, list_made, offer_made
from in_process import run
from places import GOLDEN
from shipped_findings import TABLE, table_text


def main() -> None:
    """Writes the files that are named, or all."""
    for name in sys.argv[1:] or (TABLE.name, *LISTS, *OFFERS, INVOICE):
        with tempfile.TemporaryDirectory() as place:
            (GOLDEN / name).write_bytes(_made(name, Path(place)))
        print(name)


def _made(name, place):
    if name in LISTS:
        return list_made(run, name, place)
    if name in OFFERS:
        return offer_made(run, name, place).encode()
    return (invoice_made(run, place) if name == INVOICE else table_text()).encode()


if __name__ == "__main__":
    main()
