"""What the JSON of the program says, out of its envelope, and whether its schema describes it."""

import json
from functools import cache

from jsonschema import Draft202012Validator

from upgrade_planner.documents.schemas.named import format_schema
from upgrade_planner.documents.shared.data_text import PROGRAM

DEAR = ("plan", "comparison", "kit")
"""Large ones, whose schema is tried in `test_schemas` and where they have keys of their own."""


def data_of(text, name=None, **options):
    """
    The data of JSON text, whose envelope is sound.

    Args:
        text: What was written.
        name: Format and version that it must have, such as `("plan", 3)`; None for any.
        **options: For `json.loads`.
    """
    envelope = json.loads(text, **options)
    assert list(envelope) == ["format", "version", "program", "data"]
    family, _, which = envelope["format"].partition(" ")
    assert (family, envelope["program"]) == ("upgrade-planner", PROGRAM)
    assert name in (None, (which, envelope["version"]))
    if which not in DEAR:
        assert_described(text)
    return envelope["data"]


def assert_described(text):
    """The schema describes all of it, and has no room for anything else."""
    whole = json.loads(text)
    _, _, name = whole["format"].partition(" ")
    assert faults(name, whole) == []


def faults(name, whole):
    """What a schema has against data, the first few: where, and what."""
    found = [(list(one.absolute_path), one.message[:200]) for one in judge(name).iter_errors(whole)]
    return found[:5]


@cache
def judge(name):
    """Judges data by the schema of that name, closed."""
    return Draft202012Validator(format_schema(name, is_closed=True))
