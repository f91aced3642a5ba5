"""Trying out a consumer in words: the sentences of `functions.toml`."""

from upgrade_planner.documents.words.wording import part_words
from upgrade_planner.documents.words.written import written_table
from upgrade_planner.planning.operations import SwitchOn

MOST_NAMED = 6
"""Wires and parts named where something does not work. Source: our assumption."""


def trial_instruction(operation: SwitchOn) -> str:
    """What to do."""
    text = written_table("functions")[str(operation.part.family)]["instruction"]
    return str(text).format(name=part_words(operation.part))


def trials_instruction() -> str:
    """What to do where several consumers are tried in turn."""
    return str(written_table("functions")["all"]["instruction"])


def trial_expected(operation: SwitchOn) -> str:
    """What must then happen."""
    return str(written_table("functions")[str(operation.part.family)]["expected"])


def trial_suspects(operation: SwitchOn) -> tuple[str, ...]:
    """Where to look first if it does not; nothing where only the ground changed."""
    named = [name.replace("_", " ") for name in operation.touched[:MOST_NAMED]]
    if not named:
        return ()
    return (str(written_table("functions")["if_not"]["text"]).format(touched=", ".join(named)),)
