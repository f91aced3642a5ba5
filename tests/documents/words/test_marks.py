"""Marks of terminals are printed where the part bears them; elsewhere what the terminal is for."""

import re

from every_case import every_case
from pair_facts import loaded, planned

from upgrade_planner.configuration.loading import load_configuration
from upgrade_planner.configuration.model import TerminalRef
from upgrade_planner.documents.drawings.union import union_of
from upgrade_planner.documents.shared.html import worksheet_html
from upgrade_planner.documents.words.wording import mark_words, terminal_words
from upgrade_planner.documents.worksheet.sheet import sheet_view
from upgrade_planner.documents.worksheet.title_block import SheetOptions

TRACTOR = ("six_volt_tractor_original", "six_volt_tractor_twelve")


def words(configuration, role, terminal):
    return terminal_words(configuration, TerminalRef(role, terminal))


def test_a_stud_and_a_ground_point_bear_no_mark(load):
    van = load("van_upgraded")
    assert words(van, "main_junction", "stud") == "main junction"
    assert words(van, "body_ground", "stud") == "body ground"
    assert words(van, "alternator", "output") == "alternator output (B+)"
    assert words(van, "ignition_switch", "ignition") == "ignition switch (15)"


def test_an_old_vehicle_has_no_marks_on_its_own_parts_but_those_that_say_so(load):
    tractor = load("six_volt_tractor_twelve")
    assert words(tractor, "ignition_switch", "ignition") == "ignition switch ignition terminal"
    assert words(tractor, "battery", "positive") == "battery positive (+)"
    assert words(tractor, "alternator", "output") == "alternator output (B+)"
    assert tractor.component("ignition_switch").terminal("ignition").label == "15"


@every_case(
    ("vehicle", "part", "is_marked"),
    [("", "", True), ("no", "", False), ("no", "yes", True), ("", "no", False), ("yes", "", True)],
)
def test_a_part_says_it_before_its_vehicle(garage, vehicle, part, is_marked):
    text = garage.text("vehicle")
    if vehicle:
        text = text.replace("[vehicle]", f'[vehicle]\nmarked = "{vehicle}"', 1)
    if part:
        text = re.sub(r'(role = "key"\n)', rf'\1marked = "{part}"\n', text, count=1)
    garage.write("vehicle", text)
    switch = load_configuration(str(garage.path("configuration"))).component("key")
    assert {terminal.is_marked for terminal in switch.terminals} == {is_marked}
    for terminal in switch.terminals:
        assert mark_words(terminal) == (terminal.label if is_marked else terminal.name)


def test_no_paper_of_the_tractor_prints_a_mark_that_is_not_there(run, tmp_path):
    """Sheet with its cards, kit with its bags, survey form."""
    papers = (
        ("worksheet", *TRACTOR, "--no-drawings", "-o", "sheet.html"),
        ("kit", *TRACTOR, "-o", "kit.html"),
        ("survey", TRACTOR[0], "-o", "survey.html"),
    )
    for arguments in papers:
        run(*arguments, cwd=tmp_path)
    for name in ("sheet.html", "kit.html", "survey.html"):
        text = re.sub(r"<[^>]+>", " ", (tmp_path / name).read_text(encoding="utf-8"))
        assert not re.search(r"(ground|earth|junction|switch ignition) ?\((31|30|15)\)", text)
    assert "main junction" in worksheet_html(
        sheet_view(planned(*TRACTOR), SheetOptions(date="2026-03-01"))
    )


def test_drawings_say_what_a_terminal_is_for():
    union = union_of(planned(*TRACTOR).comparison)
    assert union.labels("ignition_switch")["ignition"].before == "ignition"
    assert union.labels("main_junction")["stud"].before == ""
    assert loaded(TRACTOR[0]).component("main_junction").terminal("stud").label == "30"
