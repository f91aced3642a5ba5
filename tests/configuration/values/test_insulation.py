"""Insulation classes."""

import pytest
from every_case import every_case
from published import all_rows

from upgrade_planner.configuration.values.insulation import (
    Insulation,
    InsulationError,
    insulations,
    parse_insulation,
)


def published_temperatures_c():
    """Temperatures by class, all that the reference has: publications disagree."""
    found: dict[str, list[float]] = {}
    for row in all_rows("sae.csv"):
        if row["quantity"] == "max continuous temperature":
            found.setdefault(row["size"], []).append(float(row["value"]))
    return found


@every_case("name", ["TXL", "GXL", "GPTM", "SGX", "GPT"])
def test_rating_is_the_lowest_published(name):
    assert parse_insulation(name).rated_c == min(published_temperatures_c()[name])


@every_case("name", ["TWP", "SGT"])
def test_rating_of_disputed_class_is_below_the_one_row_the_table_keeps(name):
    # The rows say 105 (TWP) and 85 (SGT); other publications print 80 for both. The lowest is ours.
    assert parse_insulation(name).rated_c == 80
    assert min(published_temperatures_c()[name]) > 80


@every_case("name", sorted(published_temperatures_c()))
def test_rating_is_never_above_a_published_one(name):
    assert parse_insulation(name).rated_c <= min(published_temperatures_c()[name])


@every_case(
    ("name", "rated_c"),
    [("COTTON", 60), ("RUBBER", 60), ("PVC", 70), ("HDT", 80), ("LINK", 105)],
)
def test_assumed_classes_have_their_temperature(name, rated_c):
    assert parse_insulation(name).rated_c == rated_c


def test_every_class_has_words_and_a_source():
    for insulation in insulations():
        assert insulation.description
        assert insulation.source
        assert insulation.status in {"secondary", "memory", "assumption"}


def test_names_are_unique():
    names = [insulation.name for insulation in insulations()]
    assert len(names) == len(set(names))


def test_iso_classes_rise_with_their_letter():
    rated_c = [parse_insulation(f"ISO-{letter}").rated_c for letter in "ABCDEFGH"]
    assert rated_c == sorted(set(rated_c))


@every_case("text", ["ISO-B", "iso-b", " ISO B ", "iso\N{NO-BREAK SPACE}b"])
def test_case_and_spaces_do_not_matter(text):
    assert parse_insulation(text).name == "ISO-B"


@every_case(("text", "nearest"), [("TXLL", "TXL"), ("ISOB", "ISO-B"), ("COTON", "COTTON")])
def test_unknown_class_lists_the_nearest(text, nearest):
    with pytest.raises(InsulationError) as caught:
        parse_insulation(text)
    assert caught.value.nearest[0] == nearest
    assert caught.value.found == f'"{text}"'
    assert "GPT, TWP" in caught.value.expected


@every_case("value", [None, 105, True, ["GPT"], "", "?" * 9999])
def test_nonsense_is_refused(value):
    with pytest.raises(InsulationError) as caught:
        parse_insulation(value)
    assert caught.value.nearest == ()


def test_rating_is_above_zero():
    with pytest.raises(ValueError, match="rated_c"):
        Insulation(name="ICE", rated_c=0, description="", source="", status="assumption")
