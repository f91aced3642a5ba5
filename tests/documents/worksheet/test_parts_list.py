"""The parts list of a work sheet: headings say what is common, and cut nothing off."""

from attrs import evolve
from pair_facts import planned

from upgrade_planner.documents.words.articles import words_of
from upgrade_planner.documents.worksheet import parts_list
from upgrade_planner.kit.articles import article
from upgrade_planner.kit.materials import consumption, totals


def test_a_heading_of_the_parts_list_cuts_nothing_off_part_names(monkeypatch):
    """Parts whose names begin like their heading keep them whole."""
    plan = planned("van_original_resistance", "van_upgraded")
    (some, *_) = (m for found in consumption(plan).values() for m in found)
    names = ("Partition lamp", "Part throttle switch", "Parts tray", "Partner horn")
    bought = [
        evolve(some, article=article("part", kind="lamp", rating="", name=name)) for name in names
    ]
    monkeypatch.setattr(parts_list, "consumption", lambda _: {"x": bought})
    printed = {row.item for group in parts_list.part_groups(plan, "metric") for row in group.rows}
    assert {words_of(material.article, "metric") for material in bought} <= printed


def test_what_the_heading_says_is_not_said_again():
    plan = planned("van_original_resistance", "van_upgraded")
    groups = {group.heading: group.rows for group in parts_list.part_groups(plan, "metric")}
    rings = [row.item for row in groups["Ring terminals"]]
    summed = totals(m for found in consumption(plan).values() for m in found)
    assert len(rings) == sum(m.article.sort == "ring terminal" for m in summed)
    assert not any("ing terminal" in item for item in rings)
