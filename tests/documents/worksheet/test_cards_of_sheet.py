"""Cards of a sheet: a part, terminal by terminal, a tick for each thing to do."""

from every_case import every_case
from pair_facts import viewed

from upgrade_planner.documents.shared.html import worksheet_html

VAN = ("van_original_resistance", "van_upgraded")
SALOON = ("saloon_original", "saloon_negative_alternator")


def rows(pair):
    return [row for phase in viewed(*pair).phases for block in phase.blocks for row in block.rows]


def card(pair, name):
    (found,) = (row for row in rows(pair) if row.card and row.instruction == name)
    return found


@every_case("pair", [VAN, SALOON])
def test_each_line_has_the_tick_of_one_step(pair):
    html = worksheet_html(viewed(*pair))
    cards = [row for row in rows(pair) if row.card]
    assert cards
    for row in cards:
        assert [line.step for line in row.card.lines] == [step.number for step in row.steps]
        for line in row.card.lines:
            assert html.count(f'aria-label="Step {line.step} done"') == 1


def test_old_part_says_what_comes_off_where_and_what_another_row_has():
    regulator = card(VAN, "Regulator with field relay")
    assert regulator.card.word == "OUT"
    lines = {line.terminal: line for line in regulator.card.lines}
    assert list(lines) == ["lamp (61)", "field relay (W)", "ground (31)", "supply (B+)", ""]
    assert lines["lamp (61)"].action == "CAP OFF"
    assert lines["lamp (61)"].instruction == "Disconnect W5 charge-lamp."
    assert lines["supply (B+)"].details[0] == "Other end: main junction."
    assert lines[""].instruction == "Remove the regulator with field relay."
    assert regulator.card.elsewhere == "Row C8: field (DF)"


def test_a_terminal_is_named_once_for_all_that_is_done_at_it():
    stud = card(VAN, "Main junction stud")
    assert [line.terminal for line in stud.card.lines] == ["stud", "", ""]


def test_new_part_says_what_is_joined_without_being_laid():
    fuses = card(SALOON, "Fuse holder behind the dash")
    assert fuses.card.word == "NEW"
    assert [line.terminal for line in fuses.card.lines] == ["heater (2)", "", "ignition (0)", ""]
    assert fuses.card.lines[0].instruction == "Route the free end of W16 heater-feed here."
    assert fuses.card.lines[1].instruction == "Connect W16 heater-feed."
    assert fuses.card.elsewhere == "Row F10: supply (15); row F13: pump (1)"
