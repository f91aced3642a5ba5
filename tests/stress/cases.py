"""One case: a spoilt file, a command, and what must hold of the way it ends."""

import random
import re
import resource
import time
from collections import Counter
from collections.abc import Iterator, Sequence
from pathlib import Path

import pytest
from attrs import frozen
from in_process import load_few, run
from inputs import Input, laid_out
from spoiling import spoilt

from upgrade_planner.inspection.walk import inspection
from upgrade_planner.jobs import record
from upgrade_planner.kit import packing
from upgrade_planner.library import collected
from upgrade_planner.planning.plan import plan_upgrade
from upgrade_planner.quote import made

LONGEST_S = 5.0
MOST_BYTES = 500_000_000


@frozen
class Ended:
    """How a case ended, and what is wrong with that ("" if nothing is)."""

    number: int
    file: str
    command: tuple[str, ...]
    code: int
    seconds: float
    wrong: str
    told: str


def case(number: int, first: int, sorts: Sequence[Input], folder: Path, *, quick: bool) -> Ended:
    """
    Spoils one file and calls the program.

    Args:
        number: Of the case; with `first` it decides everything.
        first: Number that a whole run starts from.
        sorts: Files to choose from.
        folder: Emptied first.
        quick: The cheapest command of the file only.
    """
    rnd = random.Random(f"{first}/{number}")
    one = sorts[number % len(sorts)]
    laid_out(one, spoilt(one.content, Path(one.name).suffix, rnd), folder)
    command = one.commands[0] if quick else rnd.choice(one.commands)
    there = {path.name: path.read_bytes() for path in folder.iterdir()}
    memory, began = _peak_bytes(), time.process_time()
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(collected, "load_library", load_few)
        patch.setattr(record, "inspection", walked_once)
        for module in (packing, made):
            patch.setattr(module, "plan_upgrade", planned_once)
        done = run(*command, cwd=folder)
    seconds = time.process_time() - began
    more = _peak_bytes() - memory
    # a busy machine must not fail the suite: seconds are judged by hand
    wrong = "; ".join(_wrongs(done, one, folder, there, 0.0 if quick else seconds, more))
    return Ended(number, one.name, command, done.returncode, seconds, wrong, done.stderr)


def _wrongs(done, one, folder, there, seconds, more) -> Iterator[str]:
    if done.returncode not in (0, 1, 2):
        yield f"exit code {done.returncode}"
    if "Traceback" in done.stderr or "mistake in the program" in done.stderr:
        yield "a traceback or a mistake of the program"
    if done.returncode == 2 and not _names_its_file(done.stderr, one):
        yield "a refusal that does not name its file"
    if re.search(r"[\x00-\x08\x0b-\x1f\x7f\u202e]", done.stderr):
        yield "control characters on the screen"
    if seconds > LONGEST_S:
        yield f"{seconds:.1f} s"
    if more > MOST_BYTES:
        yield f"{more / 1e6:.0f} MB more"
    left = {path.name for path in folder.iterdir()} - set(there)
    if done.returncode == 2 and left:
        yield f"files left: {sorted(left)}"
    if any((folder / name).read_bytes() != content for name, content in there.items()):
        yield "an input was changed"


def _names_its_file(told: str, one: Input) -> bool:
    return any(name in told for name in (one.name, *(name for name, _ in one.others)))


def _peak_bytes() -> int:
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss * 1024


_plans = {}


def planned_once(before, after, policy):
    """Stands in for `plan_upgrade`: prices and rates are spoilt here, not the vehicle."""
    key = (before.digest, after.digest, policy)
    if key not in _plans:
        _plans[key] = plan_upgrade(before, after, policy)
    return _plans[key]


_walks = {}


def walked_once(configuration):
    """Stands in for `inspection`: forms are spoilt here, not what they were printed for."""
    if configuration.digest not in _walks:
        _walks[configuration.digest] = inspection(configuration)
    return _walks[configuration.digest]


def counted_by_file(ended: Sequence[Ended]) -> dict[str, Counter]:
    """How often each exit code occurred, by file."""
    found: dict[str, Counter] = {}
    for one in ended:
        found.setdefault(one.file, Counter())[one.code] += 1
    return found
