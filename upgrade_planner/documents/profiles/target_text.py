"""A target as TOML text: every line commented, what must be decided on top."""

import re
from collections.abc import Iterator, Mapping

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.files.toml_text import (
    comment,
    key_text,
    quoted_text,
)
from upgrade_planner.configuration.model import TerminalRef
from upgrade_planner.configuration.values.measures import Quantity
from upgrade_planner.documents.profiles.heads import configuration_head
from upgrade_planner.documents.words.quantities import quantity_words
from upgrade_planner.documents.words.wording import role_words
from upgrade_planner.documents.words.written import written_table
from upgrade_planner.targets.wish_edits import (
    Decision,
    EditKey,
    EditLine,
    NewName,
    Target,
    Value,
)

NAMES = (EditKey.REMOVE_WIRE, EditKey.REMOVE_PART)
LISTS = (EditKey.CHANGE_WIRE, EditKey.ADD_WIRE)
PARTS = (EditKey.ADD_PART, EditKey.CHANGE_PART)


@frozen(kw_only=True)
class TargetHead:
    """
    What stands at the top of a target.

    Attributes:
        based_on: The car's file, as the target names it.
        opening: Lines of comment.
        chosen: What was chosen, a line each, by slot.
    """

    title: str
    summary: str
    based_on: str
    opening: tuple[str, ...] = ()
    chosen: Mapping[str, str] = {}


def target_text(target: Target, head: TargetHead) -> str:
    """The file, ready to be loaded and to be read by a person."""
    blocks = (
        [line for text in head.opening for line in comment(text)],
        [line for question in target.questions for line in _question(question)],
        _configuration(target, head),
        _systems(target, head),
        list(change_lines(target.lines())),
    )
    return "\n\n".join("\n".join(block) for block in blocks if block) + "\n"


def question_words(question: Decision) -> tuple[str, str, str]:
    """What is asked, what was written, and what else could be."""
    words = written_table("targets")["question"][question.code]
    facts = {name: str(_plain(value)) for name, value in question.facts.items()}
    facts |= {"role": question.role, "part": role_words(question.role)}
    ask, first, other = (words[key].format(**facts) for key in ("ask", "first", "other"))
    return ask, first, other


def _question(question: Decision) -> list[str]:
    ask, first, other = question_words(question)
    texts = (f"DECIDE: {ask}", f"  1 {first}", f"  2 {other}")
    return [line for text in texts for line in comment(text)]


def _configuration(target: Target, head: TargetHead) -> list[str]:
    lines = [
        *configuration_head(),
        f"title = {quoted_text(head.title)}",
        f"summary = {quoted_text(head.summary)}",
        f"based_on = {quoted_text(head.based_on)}",
    ]
    if target.voltage_v is not None:
        lines.append(f"voltage = {quoted_text(f'{target.voltage_v:g} V')}")
    if target.ground:
        lines.append(f"ground = {quoted_text(target.ground)}")
    return lines


def _systems(target: Target, head: TargetHead) -> list[str]:
    lines = []
    for slot, name in sorted(target.systems.items()):
        lines += comment(head.chosen[slot]) if slot in head.chosen else []
        lines.append(f"{slot} = {quoted_text(name)}")
    return ["[systems]", *lines] if lines else []


def change_lines(
    tables: Mapping[EditKey, Mapping[str, EditLine]], words: str = "why"
) -> Iterator[str]:
    """
    The table `[changes]` of edits, each line with its reason.

    Args:
        tables: Lines by table and name.
        words: Heading of the reasons in the words of targets.
    """
    if not any(tables.values()):
        return
    yield "[changes]"
    for table in (*NAMES, *LISTS):
        if tables[table]:
            yield f"{table} = ["
            for line in tables[table].values():
                entry = line.name if table in NAMES else {"id": line.name, **line.values}
                yield f"  {_value(entry)},  # {_why(line, words)}"
            yield "]"
    for table in PARTS:
        for line in tables[table].values():
            yield from ("", *comment(_why(line, words)), f"[[changes.{table}]]")
            yield f"role = {quoted_text(line.name)}"
            if line.called is not None:
                yield f"name = {quoted_text(called_text(line.called))}"
            yield from (f"{key} = {_value(value)}" for key, value in line.values.items())


def _why(line: EditLine, words: str) -> str:
    return " ".join(dict.fromkeys(written_table("targets")[words][why] for why in line.whys))


_FORMER = re.compile(r",? ?\b\d+(\.\d+)? (V|Ah|A)\b")
"""Volts, ampere-hours and amperes in the name of a part that gets others."""

_FORMER_GROUND = re.compile(r",? for (positive|negative) ground\b")
"""The ground in the name of a part that is exchanged for the version for the other one."""

_WITHOUT_FORMER = ("for-voltage", "with-output")


def called_text(called: NewName) -> str:
    """What a part is called now."""
    old = _FORMER.sub("", called.old) if called.code in _WITHOUT_FORMER else called.old
    old = _FORMER_GROUND.sub("", old) if called.code == "for-ground" else old
    facts = {name: str(_plain(value)) for name, value in called.facts.items()}
    text: str = written_table("targets")["called"][called.code].format(old=old, **facts)
    return text


def _value(value: Value) -> str:
    if isinstance(value, Mapping):
        pairs = ", ".join(f"{key_text(key)} = {_value(item)}" for key, item in value.items())
        return f"{{ {pairs} }}"
    if isinstance(value, NewName):
        return quoted_text(called_text(value))
    if isinstance(value, tuple):
        return f"[{', '.join(map(_value, value))}]"
    plain = _plain(value)
    return str(plain) if isinstance(plain, int) else quoted_text(plain)


def _plain(value: Value) -> str | int:
    """A value as a profile writes it, before its quotes."""
    if isinstance(value, Quantity):
        return quantity_words(value, ".4g", "metric", space=" ").replace("Ω", "ohm")
    if isinstance(value, float):
        return f"{value:g} deg"
    return str(value) if isinstance(value, TerminalRef) else value  # type: ignore[return-value]
