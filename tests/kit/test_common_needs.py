"""What jobs commonly need and nobody computes: by the kind of change, on sheet, kit and offer."""

from every_case import every_case
from pair_facts import planned

from upgrade_planner.configuration.files.own_data import data_table
from upgrade_planner.documents.quote.line_words import needs_words
from upgrade_planner.documents.words.needs import need_words, needs_heading
from upgrade_planner.documents.words.ratings import ratings_words
from upgrade_planner.documents.words.speech import speech_of
from upgrade_planner.documents.words.written import written_table
from upgrade_planner.documents.worksheet.parts_list import part_groups
from upgrade_planner.documents.worksheet.steps import StepWriter
from upgrade_planner.kit.common_needs import common_needs
from upgrade_planner.planning.operations import FitPart
from upgrade_planner.quote.remarks import remarks

DYNAMO_GOES = ("saloon_original", "saloon_negative_alternator")
SIX_TO_TWELVE = ("six_volt_tractor_original", "six_volt_tractor_twelve_electronic")


def codes(pair):
    return {need.code for need in common_needs(planned(*pair))}


def test_dynamo_to_alternator_needs_bracket_belt_and_pulley():
    assert {"bracket", "belt", "pulley"} <= codes(DYNAMO_GOES)
    assert not {"bracket", "belt", "pulley"} & codes(("van_original_ballast", "van_upgraded"))


def test_electronic_ignition_asks_for_plugs_and_leads():
    assert "plugs-and-leads" in codes(("van_original_resistance", "van_upgraded"))
    assert "plugs-and-leads" not in codes(("saloon_original", "saloon_negative_dynamo"))


def test_dropping_resistor_wants_a_place_where_it_may_get_hot():
    (hot,) = [need for need in common_needs(planned(*SIX_TO_TWELVE)) if need.code == "hot-mounting"]
    assert hot.names


def test_spare_fuses_name_every_rating_that_is_bought():
    (spare,) = [n for n in common_needs(planned(*SIX_TO_TWELVE)) if n.code == "spare-fuses"]
    assert list(spare.names) == sorted(spare.names, key=lambda rating: float(rating.split()[0]))


@every_case("pair", [DYNAMO_GOES, SIX_TO_TWELVE])
def test_sheet_and_offer_name_all_of_them(pair):
    plan = planned(*pair)
    (group,) = [g for g in part_groups(plan, "metric") if g.heading == needs_heading()]
    wanted = [need_words(need) for need in common_needs(plan)]
    assert [row.item for row in group.rows] == wanted
    offered = needs_words([one.need for one in remarks([plan]) if one.need], speech_of("en"))
    assert all(words in offered for words in wanted)


def test_every_need_has_its_sentence_and_no_other():
    entries = data_table("upgrade_planner.kit", "common_needs.toml")["need"]
    assert {entry["code"] for entry in entries} == set(written_table("common_needs")["needs"])


class TestRatings:
    """Every bought part tells what makes it the right one."""

    def test_dropper_coil_and_bulb_tell_theirs(self):
        after = planned(*SIX_TO_TWELVE).comparison.after
        told = {part.role: ratings_words(part, "metric") for part in after.components}
        said = " ".join(told.values()).replace("\N{NO-BREAK SPACE}", " ")
        assert " W" in said
        assert " Ω" in said

    def test_step_that_fits_a_part_says_them(self):
        plan = planned(*SIX_TO_TWELVE)
        writer = StepWriter(plan, "metric")
        for step in plan.steps:
            if isinstance(step.operation, FitPart) and step.operation.part.ratings:
                rated = ratings_words(step.operation.part, "metric")
                details = " ".join(writer.step(step.number, step.operation).details)
                assert rated[1:] in details
