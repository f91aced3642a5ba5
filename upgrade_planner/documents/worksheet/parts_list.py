"""The parts list of a work sheet."""

from collections.abc import Iterable

from upgrade_planner.configuration.composing.routing import SLACK_PER_END_M
from upgrade_planner.documents.words.articles import words_of
from upgrade_planner.documents.words.needs import need_words, needs_heading
from upgrade_planner.documents.words.quantities import small_length_words
from upgrade_planner.documents.words.wire_words import names_in_job
from upgrade_planner.documents.words.wording import length_words
from upgrade_planner.documents.worksheet.views import (
    PartGroup,
    PartRow,
)
from upgrade_planner.kit.allowances import RE_TERMINATING_M
from upgrade_planner.kit.articles import EACH, METRE, Material, shelves
from upgrade_planner.kit.common_needs import common_needs
from upgrade_planner.kit.materials import consumption, gives_back, totals
from upgrade_planner.planning.facts import parts_off
from upgrade_planner.planning.plan import Plan

SHELVES = {
    "parts": "Parts",
    "cable": "Cable and links",
    "terminals": "Terminals",
    "protection": "Fuses, relays and diodes",
    "sealing": "Heat-shrink, caps and tags",
    "harness": "Sleeve, tape, grommets and ties",
    "consumables": "Consumables",
}
"""Headings of the parts list, by shelf."""


def part_groups(plan: Plan, units: str) -> Iterable[PartGroup]:
    """What the job takes, by shelf; then what such jobs commonly need besides."""
    summed = totals(material for found in consumption(plan).values() for material in found)
    for shelf in shelves():
        rows = tuple(_part_row(m, plan, units) for m in summed if m.article.shelf == shelf)
        if rows:
            yield PartGroup(heading=SHELVES[shelf], rows=rows)
    needed = tuple(
        PartRow(quantity="", item=need_words(need), used_for="") for need in common_needs(plan)
    )
    if needed:
        yield PartGroup(heading=needs_heading(), rows=needed)


def _part_row(material: Material, plan: Plan, units: str) -> PartRow:
    unit = material.article.unit
    if unit == METRE:
        quantity = length_words(float(material.quantity), units)
    elif unit == EACH:
        quantity = f"{material.quantity:f}\N{NO-BREAK SPACE}×"
    else:
        quantity = f"{material.quantity:f}\N{NO-BREAK SPACE}{unit}"
    words = names_in_job(material.wires, material.article.sort, plan.comparison)
    return PartRow(
        quantity=quantity, item=words_of(material.article, units), used_for=", ".join(words)
    )


def parts_notes(plan: Plan, units: str) -> tuple[str, ...]:
    """What a reader of the parts list must know before buying and cutting."""
    slack = small_length_words(SLACK_PER_END_M, units)
    once_more = small_length_words(float(RE_TERMINATING_M), units)
    notes = [
        f"Lengths follow the routes of the vehicle profile with {slack} of slack at each end, "
        f"unless measured, and {once_more} to make each end once more. Measure on the vehicle "
        "before you cut.",
        "One terminal for each made end, two caps and two tags for each capped wire. "
        "No allowance for spoilt crimps: add your own.",
    ]
    off = parts_off(plan.comparison)
    if off:
        notes.append("Parts that come off and stay with the owner: " + "; ".join(off) + ".")
    cores = [m.article.trait("name") for found in gives_back(plan).values() for m in found]
    if cores:
        notes.append(
            "Of these the trade takes back as cores for new ones: "
            + "; ".join(cores)
            + ". Without them there is no way back to the old wiring."
        )
    return tuple(notes)
