"""American and British words on paper: one table, both ways, names untouched."""

import re

from pair_facts import planned
from typer.main import get_command

from upgrade_planner.cli import app
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
    assert in_english("Never polarise an alternator", US) == "Never polarize an alternator"


def test_names_of_wires_and_codes_stay():
    for text in ("W2 battery-ground", "PWR-GROUND-SIDE", "background", "coil.ground", "loom:x"):
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


def test_screens_speak_as_the_papers_do(run, tmp_path):
    """The saloon's wires are metric: British words unless others are asked for."""
    for command in (("check", "saloon_original"), ("readings", "saloon_original")):
        assert "ground" not in words_of(run(*command, cwd=tmp_path))
        assert "earth" not in words_of(run(*command, "--english", "us", cwd=tmp_path))
        assert "ground" in words_of(run(*command, "--english", "us", cwd=tmp_path))


def test_pictures_speak_as_the_papers_do(run, tmp_path):
    for english, own, other in (("us", "ground", "earth"), ("uk", "earth", "ground")):
        run("drawings", "tractor_original", "-o", "x.svg", "--english", english, cwd=tmp_path)
        drawn = (tmp_path / "x.svg").read_text("utf-8").lower()
        shown = re.sub(r"<style.*?</style>|<[^>]*>", " ", drawn, flags=re.DOTALL)
        wanted, unwanted = (rf"(?<![\w-]){word}(ed)?(?![\w-])" for word in (own, other))
        assert re.search(wanted, shown)
        assert not re.search(unwanted, shown)


def words_of(done):
    """What is printed, without names that hang together by hyphens, dots and colons."""
    return set(re.findall(r"(?<![\w.:-])[a-z]+(?![\w-]|[.:]\w)", done.stdout.lower()))


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


def test_places_parts_and_helpers_have_their_name_on_either_side():
    british = "the valve radio in the boot; call the fire service; the gearbox of a saloon"
    american = "the tube radio in the trunk; call the fire department; the transmission of a sedan"
    assert in_english(british, US) == american
    assert in_english(american, UK) == british


def test_what_a_file_must_say_stays():
    """A decision that is still open names the lines to be written."""
    line = 'A dynamo: remove_components = ["dynamo"]'
    assert in_english(line, US) == 'A generator: remove_components = ["dynamo"]'


def test_every_screen_with_words_of_the_trade_can_be_asked_for_its_english():
    """A shop's files have columns that are typed as they stand; bills have a language."""
    commands = get_command(app).commands
    without = {
        name for name, one in commands.items() if "english" not in {p.name for p in one.params}
    }
    assert without == {"shop", "accept", "invoice"}
