"""Slot tables of fuse boxes and holders in words, for the sheet and for the label of the lid."""

from upgrade_planner.configuration.model import Component, Configuration
from upgrade_planner.configuration.values.measures import ampere
from upgrade_planner.documents.words.quantities import quantity_words
from upgrade_planner.documents.words.wording import role_words
from upgrade_planner.planning.fuses import Slot, slots_of


def slot_lines(part: Component, configuration: Configuration) -> tuple[str, ...]:
    """One line for each fuse: slot, rating, what it feeds."""
    slots = slots_of(part, configuration)
    return tuple(
        f"{f'{slot_name(slot)}: ' if len(slots) > 1 else ''}{rating_words(slot)}"
        f" – {fed_words(slot)}"
        for slot in slots
    )


def rating_words(slot: Slot) -> str:
    """What is printed on the fuse."""
    return quantity_words(ampere(slot.fuse.rated_current_a), "g", "metric")


def slot_name(slot: Slot) -> str:
    """What is printed at a slot, the name of its terminal behind it: `2 (heater)`."""
    name = role_words(slot.fuse.way)
    return slot.label if slot.label.lower() == name else f"{slot.label} ({name})"


def fed_words(slot: Slot) -> str:
    """What lies behind a fuse, by its role."""
    return ", ".join(map(role_words, slot.feeds)) or "nothing (spare)"
