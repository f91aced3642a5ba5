"""What joins what inside a part, in lines: fuses with ratings, positions of a switch."""

from collections.abc import Iterator, Mapping

from upgrade_planner.comparison.part_changes import PartAdjusted, PartChange
from upgrade_planner.configuration.model import Component
from upgrade_planner.configuration.values.measures import ampere
from upgrade_planner.documents.words.quantities import quantity_words
from upgrade_planner.documents.words.wording import mark_words

FUSES, POSITIONS = "fuses", "positions"


def inner_table(change: PartChange, *, is_whole: bool) -> tuple[str, ...]:
    """
    What is written inside the box of a part.

    Args:
        change: The part and what happens to it; of one that takes other fuses those that differ.
        is_whole: True if everything inside shall be said, as in the picture of a whole vehicle.
    """
    if isinstance(change, PartAdjusted) and FUSES in change.part.ratings:
        return tuple(_other_fuses(change))
    if not is_whole:
        return ()
    if FUSES in change.part.ratings:
        return tuple(_fuses(change.part))
    return tuple(_positions(change.part)) if POSITIONS in change.part.ratings else ()


def _other_fuses(change: PartAdjusted) -> Iterator[str]:
    old = {(fuse.start, fuse.end): fuse for fuse in change.before.ratings.get(FUSES, ())}
    labels = _labels(change.part)
    for fuse in change.part.ratings[FUSES]:
        before = old.get((fuse.start, fuse.end))
        rating = _amperes(fuse.rated_current_a)
        if before is None or before.rated_current_a == fuse.rated_current_a:
            continue
        yield f"{labels[fuse.end]}: {before.rated_current_a:g} → {rating}"


def _fuses(part: Component) -> Iterator[str]:
    """Each supply with the fuses behind it: `15 → 1 (10 A), 2 (15 A)`."""
    labels = _labels(part)
    supplies: dict[str, list[str]] = {}
    for fuse in part.ratings[FUSES]:
        told = f"{labels[fuse.end]} ({_amperes(fuse.rated_current_a)})"
        supplies.setdefault(labels[fuse.start], []).append(told)
    for supply, behind in supplies.items():
        yield f"{supply} → {', '.join(behind)}"


def _positions(part: Component) -> Iterator[str]:
    """Each position with what it joins: `head: 30–58–56`."""
    labels = _labels(part)
    for name, contacts in part.ratings[POSITIONS].items():
        joined = ", ".join("–".join(labels[terminal] for terminal in ways) for ways in contacts)
        yield f"{name.replace('_', ' ')}: {joined or 'open'}"


def _labels(part: Component) -> Mapping[str, str]:
    return {terminal.name: mark_words(terminal) for terminal in part.terminals}


def _amperes(current_a: float) -> str:
    return quantity_words(ampere(current_a), "g", "metric")
