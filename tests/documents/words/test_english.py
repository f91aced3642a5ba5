"""American and British words on paper: one table, both ways, names untouched."""

from pair_facts import planned

from upgrade_planner.documents.shared.html import worksheet_html
from upgrade_planner.documents.words.english import (
    LANGUAGES,
    UK,
    US,
    in_english,
    language_for,
    page_in,
)
from upgrade_planner.documents.worksheet.sheet import sheet_view
from upgrade_planner.documents.worksheet.title_block import SheetOptions


def test_words_turn_with_capitals_plurals_and_articles():
    assert (
        in_english("A ground bolt; GROUND; two harnesses", UK) == "An earth bolt; EARTH; two looms"
    )
    assert in_english("An earth bolt under the wing", US) == "A ground bolt under the fender"
    assert in_english("the dynamo", US) == "the generator"
    assert in_english("makes it a generator", UK) == "makes it a generator"


def test_names_of_wires_and_codes_stay():
    for text in ("W2 battery-ground", "PWR-GROUND-SIDE", "background"):
        assert in_english(text, UK) == text


def test_mark_up_stays():
    page = '<p class="ground">ground <svg><title>loom</title></svg></p>'
    assert page_in(page, "en-GB") == '<p class="ground">earth <svg><title>loom</title></svg></p>'
    assert page_in(page, "en") == page


def test_the_vehicle_decides_where_nobody_asks(load):
    van, saloon = load("van_original_ballast"), load("saloon_original")
    assert language_for("", van.vehicle) == "en-US"
    assert language_for("", saloon.vehicle) == "en-GB"
    assert language_for(US, saloon.vehicle) == "en-US"


def test_a_sheet_keeps_to_one_vocabulary():
    plan = planned("van_original_resistance", "van_upgraded")
    pages = {
        english: worksheet_html(
            sheet_view(plan, SheetOptions(date="2026-03-01", language=LANGUAGES[english])),
            paper="A4",
        )
        for english in (US, UK)
    }
    assert 'lang="en-US"' in pages[US]
    assert " loom" not in pages[US]
    assert "spanner" not in pages[US].lower()
    assert " harness" not in pages[UK]
    assert "grounded" not in pages[UK].lower()
