"""What the way back from a job does not undo, in words."""

from upgrade_planner.documents.words.filling import filled
from upgrade_planner.documents.words.quantities import counted
from upgrade_planner.documents.words.wording import IN_DATA, role_words
from upgrade_planner.documents.words.written import written_table
from upgrade_planner.planning.way_back import Lasting


def trace_words(item: Lasting) -> str:
    """What it is, without the things that it concerns."""
    facts = {"connectors": tuple(map(role_words, item.connectors))}
    return filled(written_table("reasons")["traces"][item.trace], facts, IN_DATA)


def concerned_words(item: Lasting) -> tuple[str, ...]:
    """What it concerns: the names of wires or parts, or how many ends."""
    return item.concerned or (counted(item.ends, "made end"),)
