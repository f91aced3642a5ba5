"""What stays in the vehicle: every slot on its map, both ends of every capped wire, polarity."""

import re

from pair_facts import planned

from upgrade_planner.documents.kit.cut_outs import cut_outs
from upgrade_planner.planning.fuses import slots_of
from upgrade_planner.planning.operations import CapWire


def shown(plan):
    return [re.findall(r">([^<>]+)</text>", one.svg) for one in cut_outs(plan)]


def test_a_map_has_every_slot_of_the_finished_box():
    plan = planned("van_original_resistance", "van_upgraded")
    box = plan.comparison.after.component("fuse_box")
    slots = slots_of(box, plan.comparison.after)
    fuse_map = shown(plan)[0]
    assert sum("A" in text and text[0].isdigit() for text in fuse_map) >= len(slots)
    assert len(slots) > 1


def test_each_end_of_a_capped_wire_has_its_tag():
    plan = planned("van_original_resistance", "van_upgraded")
    capped = [one for one in plan.operations if isinstance(one, CapWire)]
    tags = [texts for texts in shown(plan) if "CAPPED, NOT IN USE" in texts]
    assert len(tags) == 2 * len(capped) > 0
    assert len({" ".join(texts) for texts in tags}) == len(tags)


def test_other_polarity_is_told_and_the_same_is_not():
    turned = planned("saloon_original", "saloon_negative_alternator")
    assert any("NEGATIVE GROUND" in " ".join(texts) for texts in shown(turned))
    same = planned("van_original_resistance", "van_upgraded")
    assert not any("GROUND" in " ".join(texts) for texts in shown(same))
