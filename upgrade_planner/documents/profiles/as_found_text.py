"""The text of a configuration file that says what was found at the vehicle."""

from collections.abc import Iterable, Mapping
from typing import Any

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.files.toml_text import (
    comment,
    quoted_text,
    table_list,
    value_text,
)
from upgrade_planner.documents.profiles.heads import configuration_head
from upgrade_planner.errors import printable

LONGEST_NOTE = 1500
"""Characters of the note that the work sheet prints; a profile takes 2000."""


@frozen(kw_only=True)
class AsFoundFile:
    """
    What the file shall say.

    Attributes:
        title: Of the configuration.
        summary: In one sentence.
        based_on: Shipped name or path, as a profile writes it.
        opening: Lines of comment at the top.
        sections: Headings with the lines below them, as comments before the changes.
        note: What the work sheet prints.
        remarks: What else it prints, one sentence each.
        changes: Keys of `[as_found]` with their entries.
    """

    title: str
    summary: str
    based_on: str
    opening: tuple[str, ...]
    sections: Mapping[str, tuple[str, ...]]
    note: str
    remarks: tuple[str, ...] = ()
    changes: Mapping[str, Any]


def as_found_text(content: AsFoundFile) -> str:
    """The file, ready to be loaded and to be read by a person."""
    lines = [line for text in content.opening for line in comment(text)]
    lines += [
        "",
        *configuration_head(),
        f"title = {quoted_text(content.title)}",
        f"summary = {quoted_text(content.summary)}",
        f"based_on = {quoted_text(content.based_on)}",
        "",
    ]
    for heading, texts in content.sections.items():
        lines += [*_section(heading, texts), ""] if texts else []
    lines += ["[as_found]", f"note = {quoted_text(content.note)}", *_remarks(content.remarks)]
    lines += _changes(content.changes)
    for table in ("change_component", "add_component"):
        for entry in content.changes.get(table, ()):
            lines += ["", f"[[as_found.{table}]]"]
            lines += [f"{key} = {value_text(value)}" for key, value in entry.items()]
    return "\n".join(lines) + "\n"


def _remarks(remarks: Iterable[str]) -> list[str]:
    lines = [f"  {quoted_text(printable(text))}," for text in remarks]
    return ["remarks = [", *lines, "]"] if lines else []


def _section(heading: str, texts: Iterable[str]) -> list[str]:
    return [f"# {heading}:", *(line for text in texts for line in comment(f"- {text}", "  "))]


def _changes(changes: Mapping[str, Any]) -> list[str]:
    lines = []
    for key in ("remove_wires", "remove_components"):
        if changes.get(key):
            lines.append(f"{key} = {value_text(list(changes[key]))}")
    for key in ("change_wires", "add_wires"):
        lines += table_list(key, changes.get(key, ()))
    return lines


def note_text(sentences: Iterable[str]) -> str:
    """Sentences in a row, cut at a whole one where nobody would read on."""
    taken, left = "", 0
    for sentence in sentences:
        if left or len(taken) + len(sentence) > LONGEST_NOTE:
            left += 1
        else:
            taken = f"{taken} {printable(sentence)}".strip()
    return f"{taken} {left} more in the file." if left else taken


def joined_names(names: Iterable[str], most: int = 25) -> str:
    """
    Names in a row, shortened.

    Example:
        >>> joined_names(["a", "b", "c"], 2)
        'a, b and 1 more'
    """
    every = list(names)
    rest = f" and {len(every) - most} more" if len(every) > most else ""
    return ", ".join(every[:most]) + rest
