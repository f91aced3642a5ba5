"""What a finding is about, and the roles in its sentences, as people call them."""

import re

from upgrade_planner.checks.findings import Subject, SubjectForm
from upgrade_planner.configuration.model import Configuration, TerminalRef
from upgrade_planner.documents.words.wording import role_words, terminal_words

_NAMED = re.compile(r"\b[a-z]+(?:_[a-z]+)*(?:[.:][a-z_]+)|\b[a-z]+(?:_[a-z]+)+\b")
"""A role with a terminal or a fuse of it behind, or one of several words."""


def subject_words(subject: Subject, configuration: Configuration) -> str:
    """A wire by its name, a part by its role, a terminal with the mark that stands on it."""
    match subject.form:
        case SubjectForm.PART:
            return role_words(subject.name.replace(":", " "))  # a fuse of a box
        case SubjectForm.TERMINAL if subject.name in configuration.component_by_role:
            return terminal_words(configuration, TerminalRef(subject.name, subject.terminal))
    return str(subject)


def spoken(text: str, configuration: Configuration) -> str:
    """A sentence with its roles as people say them: `fuse block horn` for `fuse_block:horn`."""
    return _NAMED.sub(lambda found: _name_words(found[0], configuration), text)


def _name_words(name: str, configuration: Configuration) -> str:
    role, _, terminal = name.partition(".")
    part = configuration.component_by_role.get(role)
    if terminal and (part is None or part.terminal(terminal) is None):
        return name
    if terminal:
        return terminal_words(configuration, TerminalRef(role, terminal))
    return role_words(name.replace(":", " "))
