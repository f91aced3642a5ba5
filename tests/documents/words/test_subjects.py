"""What a finding is about: by role and function, with the mark that stands on the part."""

from pair_facts import loaded

from upgrade_planner.checks.findings import at_part, at_terminal, at_wire
from upgrade_planner.configuration.model import TerminalRef
from upgrade_planner.documents.words.subjects import spoken, subject_words


def test_parts_are_named_by_role_and_terminals_with_their_mark():
    van = loaded("van_upgraded")
    supply = at_terminal(TerminalRef("distributor", "supply"))
    assert subject_words(supply, van) == "distributor supply (15)"
    assert subject_words(at_part("fuse_block:horn"), van) == "fuse block horn"
    assert subject_words(at_wire("charge-output"), van) == "charge-output"


def test_sentences_hold_roles_as_people_say_them():
    van = loaded("van_upgraded")
    assert spoken("at distributor.supply, e.g. now", van) == "at distributor supply (15), e.g. now"
    assert (
        spoken("headlamp_left_low and fuse_block:horn", van)
        == "headlamp left low and fuse block horn"
    )
