"""Numbers that nobody would write: signs of zero, zeros without end, thousands of milliamperes."""

import pytest
from every_case import every_case
from odd_numbers import odd_numbers, told_alike
from pair_facts import found

from upgrade_planner.checks.causes import every
from upgrade_planner.configuration.files.shipped import shipped_profiles
from upgrade_planner.configuration.values.measures import ampere, celsius, is_above, metre, volt
from upgrade_planner.documents.words.findings import finding_words
from upgrade_planner.documents.words.quantities import quantity_words


@every_case("number", [-1e-9, -0.0, -0.04])
def test_what_rounds_to_zero_has_no_sign(number):
    assert quantity_words(volt(number), ".1f", "metric", space=" ") == "0.0 V"


def test_milliamperes_end_where_amperes_begin():
    words = [
        quantity_words(ampere(number), ".0f", "metric", unit="mA", space=" ")
        for number in (0.025, 0.6, 1.0, 56.699)
    ]
    assert words == ["25 mA", "600 mA", "1.0 A", "56.7 A"]


@every_case(
    ("value", "limit"),
    [(metre(0.230), metre(0.229)), (volt(1e-7), volt(0.0)), (celsius(80.3), celsius(80.0))],
)
def test_a_difference_that_no_instrument_shows_is_none(value, limit):
    assert not is_above(value, limit)


@pytest.mark.parametrize("name", sorted(shipped_profiles("configuration")))
def test_no_finding_has_a_number_that_nobody_would_write(name):
    for finding in every(found(name)):
        for units in ("metric", "us"):
            words = finding_words(finding, units)
            text = f"{words.title} {words.what} {words.remedy} {words.source}"
            assert not odd_numbers(text.replace("\N{NO-BREAK SPACE}", " "))
            assert not told_alike(finding, units), words.what


def test_a_half_is_written_alike_whichever_way_it_was_computed():
    halves = (3.249999999999914, 3.25, 3.2500000000000813)
    words = {quantity_words(ampere(number), ".1f", "metric", space=" ") for number in halves}
    assert words == {"3.2 A"}
