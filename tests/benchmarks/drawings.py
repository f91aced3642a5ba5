"""
Draws all ready pairs, or as many random ordered pairs as asked for, with full effort.

    .venv/bin/python tests/benchmarks/drawings.py [NUMBER]

Prints pictures, pages, crossings, bends, seconds, and every fault of every picture; fails if there
is a fault, or if the ready pairs need more crossings than the ceiling.
"""

import sys
import time
from itertools import permutations
from pathlib import Path
from random import Random

sys.path.insert(0, str(Path(__file__).parents[1] / "support"))

from drawn import (
    crossings,
    lines_on_lines,
    lines_through_boxes,
    lines_through_texts,
    text_on_text,
)
from pair_facts import compared, loaded

from upgrade_planner.configuration.files.shipped import shipped_profiles
from upgrade_planner.documents.drawings.labels import Lettering
from upgrade_planner.documents.drawings.pages import change_pictures, formats, paged
from upgrade_planner.documents.drawings.picture import Effort
from upgrade_planner.documents.drawings.union import union_of
from upgrade_planner.library.pairs import ready_pairs

MOST_CROSSINGS = 45
FAULTS = (text_on_text, lines_through_boxes, lines_through_texts, lines_on_lines)


def ready():
    return [(pair.before, pair.after) for pair in ready_pairs()]


def random_pairs(number):
    names = sorted(shipped_profiles("configuration"))
    vehicles = {name: loaded(name).vehicle.name for name in names}
    possible = [(a, b) for a, b in permutations(names, 2) if vehicles[a] == vehicles[b]]
    return Random(0).sample(possible, min(number, len(possible)))


def drawn(pair):
    """Pictures, pages, seconds."""
    union, forms = union_of(compared(*pair)), formats("A4")
    start = time.process_time()
    found = change_pictures(union, forms, Lettering(), Effort())
    seconds = time.process_time() - start
    return found, paged(found, forms), seconds


def main():
    pairs = random_pairs(int(sys.argv[1])) if sys.argv[1:] else ready()
    sums, faults = [0, 0, 0, 0, 0.0], 0
    for pair in pairs:
        found, pages, seconds = drawn(pair)
        crossed = sum(map(crossings, found))
        row = [len(found), len(pages), crossed, sum(p.tally.bends for p in found), seconds]
        sums = [a + b for a, b in zip(sums, row, strict=True)]
        print("{:55} {:3} {:3} {:3} {:4} {:5.1f} s".format(" ".join(pair), *row), flush=True)
        for picture in found:
            told = [(fault.__name__, fault(picture)) for fault in FAULTS if fault(picture)]
            if not any(form.holds((picture.width, picture.height)) for form in formats("A4")):
                told.append(("too large", (picture.width, picture.height)))
            faults += len(told)
            for name, what in told:
                print(f"    {picture.title}: {name} {what}")
    print("{:55} {:3} {:3} {:3} {:4} {:5.1f} s".format("together", *sums))
    print(f"{faults} faults")
    too_many = not sys.argv[1:] and sums[2] > MOST_CROSSINGS
    return 1 if faults or too_many else 0


if __name__ == "__main__":
    sys.exit(main())
