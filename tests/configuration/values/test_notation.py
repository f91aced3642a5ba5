"""The error that all readers of short texts share."""

import pickle

from every_case import every_case

from upgrade_planner.configuration.values.notation import NotationError, shown_scalar


def test_error_reads_as_one_sentence():
    error = NotationError('"RT"', "a colour code", ["RD", "WH"])
    assert str(error) == 'found "RT"; expected a colour code (nearest: RD, WH)'


def test_error_without_suggestion_leaves_the_brackets_out():
    assert str(NotationError("nothing", "a size")) == "found nothing; expected a size"


def test_error_survives_a_trip_between_processes():
    error = pickle.loads(pickle.dumps(NotationError("a", "b", ["c"])))
    assert (error.found, error.expected, error.nearest) == ("a", "b", ("c",))


@every_case(
    ("value", "text"),
    [
        ("two\nlines\x1b[31m", '"two lines [31m"'),
        ("x" * 40, f'"{"x" * 40}"'),
        ("x" * 41, f'"{"x" * 40}…"'),
        (False, "false"),
        (-(10**40), "a huge bare number"),
        ((1, 2), "a tuple"),
    ],
)
def test_faulty_value_is_shown_short_and_printable(value, text):
    assert shown_scalar(value) == text
