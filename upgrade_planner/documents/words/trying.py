"""Trying out a consumer in words: the sentences of `functions.toml`."""

from collections.abc import Sequence

from upgrade_planner.documents.words.wording import part_words, role_words
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
    return _suspects("if_not", operation.touched)


def suspects_of_all(operations: Sequence[SwitchOn]) -> tuple[tuple[str, ...], list[str]]:
    """Where to look if one of several fails: what all share, and the rest of each in turn."""
    named = [operation.touched[:MOST_NAMED] for operation in operations]
    shared = [name for name in named[0] if all(name in others for others in named)]
    rest = [", ".join(role_words(name) for name in one if name not in shared) for one in named]
    return _suspects("if_one_fails", shared), rest


def _suspects(sentence: str, touched: Sequence[str]) -> tuple[str, ...]:
    if not touched:
        return ()
    named = ", ".join(map(role_words, touched[:MOST_NAMED]))
    return (str(written_table("functions")[sentence]["text"]).format(touched=named),)
