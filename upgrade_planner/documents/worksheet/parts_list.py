"""The parts list of a work sheet."""

from collections import Counter
from collections.abc import Iterable, Iterator

from upgrade_planner.configuration.composing.routing import SLACK_PER_END_M
from upgrade_planner.configuration.values.colours import parse_colour
from upgrade_planner.documents.words.articles import words_of
from upgrade_planner.documents.words.needs import need_words, needs_heading
from upgrade_planner.documents.words.quantities import small_length_words
from upgrade_planner.documents.words.shelves import SHELVES
from upgrade_planner.documents.words.wire_words import names_in_job
from upgrade_planner.documents.words.wording import length_words, sentence
from upgrade_planner.documents.worksheet.views import (
    PartGroup,
    PartRow,
)
from upgrade_planner.kit.allowances import RE_TERMINATING_M
from upgrade_planner.kit.articles import EACH, METRE, Material, shelves, sorts
from upgrade_planner.kit.common_needs import common_needs
from upgrade_planner.kit.materials import consumption, gives_back, totals
from upgrade_planner.planning.plan import Plan

MANY = 4
"""So many articles of one sort have a heading of their own."""


def part_groups(plan: Plan, units: str) -> Iterable[PartGroup]:
    """What the job takes, by shelf; then what such jobs commonly need besides."""
    summed = totals(material for found in consumption(plan).values() for material in found)
    for shelf in shelves():
        lying = [material for material in summed if material.article.shelf == shelf]
        for heading, materials in _headed(SHELVES[shelf], lying):
            yield PartGroup(
                heading=heading, rows=tuple(_part_row(m, heading, plan, units) for m in materials)
            )
    needed = tuple(
        PartRow(quantity="", item=need_words(need), used_for="") for need in common_needs(plan)
    )
    if needed:
        yield PartGroup(heading=needs_heading(), rows=needed)


def _headed(shelf: str, materials: list[Material]) -> Iterator[tuple[str, list[Material]]]:
    """Sorts of which there are many have a heading of their own, and need not be named again."""
    many = Counter(material.article.sort for material in materials)
    if len(many) == 1:
        yield shelf, materials
        return
    rest = [m for m in materials if many[m.article.sort] < MANY]
    if rest:
        yield shelf, rest
    for sort in (sort for sort, count in many.items() if count >= MANY):
        yield _heading(sort), [m for m in materials if m.article.sort == sort]


def _heading(sort: str) -> str:
    words = sentence(sorts()[sort].words)
    return f"{words}s" if sorts()[sort].unit == EACH else words


def _part_row(material: Material, heading: str, plan: Plan, units: str) -> PartRow:
    unit = material.article.unit
    if unit == METRE:
        quantity = length_words(float(material.quantity), units)
    elif unit == EACH:
        quantity = f"{material.quantity:f}\N{NO-BREAK SPACE}×"
    else:
        quantity = f"{material.quantity:f}\N{NO-BREAK SPACE}{unit}"
    words = names_in_job(material.wires, material.article.sort, plan.comparison)
    item = words_of(material.article, units)
    if "colour" in dict(material.article.traits):
        colour = parse_colour(material.article.trait("colour"))
        item = item.replace(colour.label, colour.code)
    return PartRow(
        quantity=quantity,
        item=_under(heading, item, material.article.sort),
        used_for=", ".join(words),
    )


def _under(heading: str, item: str, sort: str) -> str:
    """An article without what its heading says of it; nothing is cut off a part's own name."""
    words = sentence(sorts()[sort].words)
    if heading != _heading(sort) or "name" in sorts()[sort].traits:
        return item
    return item.removeprefix(words).lstrip(", ")


def parts_notes(plan: Plan, units: str) -> tuple[str, ...]:
    """What a reader of the parts list must know before buying and cutting."""
    slack = small_length_words(SLACK_PER_END_M, units)
    once_more = small_length_words(float(RE_TERMINATING_M), units)
    notes = [
        f"Lengths follow the routes of the vehicle profile, unless measured, with {slack} of slack "
        f"at each end and {once_more} to make each end once more. Measure on the vehicle before "
        "you cut. No allowance for failed crimps: add your own.",
    ]
    cores = [m.article.trait("name") for found in gives_back(plan).values() for m in found]
    if cores:
        notes.append(
            "Old parts that the trade takes back as cores for new ones: "
            + "; ".join(cores)
            + ". Without them there is no way back to the old wiring."
        )
    return tuple(notes)
