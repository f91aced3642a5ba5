"""The answers to `describe` in a file: one `key = value` a line, read with all its faults."""

import tomllib
from collections.abc import Iterator
from pathlib import Path
from textwrap import wrap

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.files.faults import one_of, quoted
from upgrade_planner.configuration.files.shipped import shipped_profiles
from upgrade_planner.configuration.files.texts import read_text
from upgrade_planner.errors import ConfigurationError, Problem
from upgrade_planner.library.questions import (
    Answer,
    AnswerError,
    Answers,
    Question,
    completed,
    is_unknown,
    questions,
    read_answer,
)

BASED_ON = "based_on"
"""Key that chooses the shipped configuration to start from; the nearest if it is left out."""


@frozen(kw_only=True)
class AnswerFile:
    """
    What a file of answers says.

    Attributes:
        based_on: Shipped configuration that was chosen, or "".
    """

    answers: Answers
    based_on: str = ""


def load_answers(path: Path) -> AnswerFile:
    """
    The answers in a file.

    Raises:
        ConfigurationError: the file cannot be read, or lines of it are wrong; holds all of them.
    """
    text = read_text(path, "a file of answers")
    answers: dict[str, Answer] = {}
    problems: list[Problem] = []
    based_on, lines = "", dict[str, int]()
    known = {question.key: question for question in questions()}
    for number, line in enumerate(text.splitlines(), start=1):
        try:
            key, value = _key_and_value(line)
            if not key:
                continue
            if key in lines:
                raise _LineError(key, "a second time", f"once (the first is in line {lines[key]})")
            lines[key] = number
            if key == BASED_ON:
                based_on = _configuration_named(value)
            elif key not in known:
                expected = one_of(key, (*known, BASED_ON), limit=len(known) + 1)
                raise _LineError(key, f"no question {quoted(key)}", expected)
            elif not is_unknown(value):
                answers[key] = read_answer(known[key], value)
        except _LineError as error:
            problems.append(_problem(path, number, error.subject, error.found, error.expected))
        except AnswerError as error:
            problems.append(_problem(path, number, key, error.found, error.expected))
    if problems:
        raise ConfigurationError(problems)
    return AnswerFile(answers=completed(answers), based_on=based_on)


class _LineError(Exception):
    """A line that is no answer."""

    def __init__(self, subject: str, found: str, expected: str) -> None:
        self.subject, self.found, self.expected = subject, found, expected
        super().__init__(found)


def _problem(path: Path, line: int, subject: str, found: str, expected: str) -> Problem:
    return Problem(
        file=str(path), line=line, column=1, subject=subject, found=found, expected=expected
    )


def _key_and_value(line: str) -> tuple[str, str]:
    """Both sides of a line; ("", "") of an empty one or a comment."""
    plain = line.strip().lstrip("\ufeff")
    if not plain or plain.startswith("#"):
        return "", ""
    key, equals, value = (piece.strip() for piece in plain.partition("="))
    if not equals or not key:
        raise _LineError("", quoted(plain), "key = value, such as: voltage = 6 V")
    return key.strip("\"'"), _plain_value(key, value)


def _plain_value(key: str, value: str) -> str:
    """A value without quotes and without a comment behind it; a list as one text."""
    try:
        read = tomllib.loads(f"x = {value}")["x"]
    except (tomllib.TOMLDecodeError, RecursionError, ValueError):
        if value[:1] in ("'", '"', "["):
            found = f"{quoted(value)}, which does not end as it begins"
            raise _LineError(key, found, 'a text such as "6 V", or one without quotes') from None
        return value.split(" #", maxsplit=1)[0].strip()
    if isinstance(read, bool):
        return "yes" if read else "no"
    if isinstance(read, list):
        return ", ".join(map(str, read)) if read else "none"
    if isinstance(read, dict):
        raise _LineError(key, "a table", "a text or a number")
    return str(read).strip()


def _configuration_named(name: str) -> str:
    names = shipped_profiles("configuration")
    if name and name not in names:
        expected = one_of(name, names, limit=len(names))
        raise _LineError(BASED_ON, f"no shipped configuration {quoted(name)}", expected)
    return name


def answers_template() -> str:
    """A file of answers to fill in: every question with its hints and choices."""
    lines = [
        "# Answers about one vehicle: write them behind the =, leave empty what is not known; then",
        "# upgrade-planner describe --answers THIS_FILE -o my_vehicle.toml",
        "",
    ]
    for question in questions():
        lines += [*_asked(question), f'{question.key} = ""', ""]
    lines += [
        "# Shipped configuration to start from; empty = the nearest one.",
        f'{BASED_ON} = ""',
        "",
    ]
    return "\n".join(lines)


def _asked(question: Question) -> Iterator[str]:
    yield f"# {question.ask}"
    yield from (f"# {line}" for line in wrap(question.see, 92))
    for variety in question.choices:
        yield f"#   {variety.id}: {variety.words}"
    if question.choices and question.subject.none:
        yield f"#   none: {question.subject.none}"
