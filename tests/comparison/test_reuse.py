"""When an old conductor may do the work of a wanted one, each shortfall by itself."""

from attrs import evolve
from every_case import every_case
from pair_facts import loaded

from upgrade_planner.comparison.reuse import follows, passes_same_connectors, reaches, shortfalls
from upgrade_planner.configuration.model import Conductor
from upgrade_planner.configuration.values.insulation import parse_insulation
from upgrade_planner.configuration.values.sizes import parse_wire_size

OLD = loaded("van_original_ballast").wire_by_id["charge-output"]
RESISTANCE = loaded("van_original_resistance").wire_by_id["ignition-resistance"]


def codes(old, wanted):
    return [reason.code for reason in shortfalls(old, wanted)]


def sized(wire, text):
    return evolve(wire, size=parse_wire_size(text))


def test_conductor_serves_as_itself():
    assert codes(OLD, OLD) == []


def test_thinner_falls_short_and_thicker_does_not():
    assert codes(sized(OLD, "14 SAE"), OLD) == ["thinner"]
    assert codes(sized(OLD, "8 SAE"), OLD) == []


def test_equal_area_of_the_other_size_system_serves():
    assert codes(sized(OLD, "4 mm²"), sized(OLD, "12 SAE")) == []


def test_insulation_for_less_heat_falls_short_whatever_the_size():
    cool = evolve(OLD, insulation=parse_insulation("COTTON"))
    assert codes(cool, evolve(OLD, insulation=parse_insulation("GXL"))) == ["insulation"]
    assert codes(evolve(OLD, insulation=parse_insulation("GXL")), cool) == []


def test_everything_that_falls_short_is_told():
    worn = evolve(sized(OLD, "16 SAE"), insulation=parse_insulation("COTTON"))
    wanted = evolve(OLD, insulation=parse_insulation("GXL"))
    assert codes(worn, wanted) == ["thinner", "insulation"]


def test_copper_never_does_the_work_of_a_resistance_wire_or_a_link():
    assert codes(OLD, RESISTANCE) == ["other-conductor"]
    assert codes(RESISTANCE, OLD) == ["other-conductor"]
    assert codes(OLD, evolve(OLD, conductor=Conductor.LINK)) == ["other-conductor"]


def test_link_of_another_size_protects_otherwise_even_if_it_is_thicker():
    link = evolve(sized(OLD, "16 SAE"), conductor=Conductor.LINK)
    assert codes(sized(link, "14 SAE"), link) == ["other-link"]
    assert codes(link, link) == []


@every_case(("ratio", "found"), [(1.005, []), (0.98, ["other-resistance"])])
def test_resistance_wires_are_equal_within_a_hundredth(ratio, found):
    other = evolve(RESISTANCE, resistance_ohm=RESISTANCE.resistance_ohm * ratio)
    assert codes(other, RESISTANCE) == found


class TestWay:
    run = loaded("van_original_ballast").runs["charge-output"]

    def test_two_centimetres_short_still_reaches_and_five_do_not(self):
        assert reaches(evolve(self.run, length_m=self.run.length_m - 0.019), self.run)
        assert not reaches(evolve(self.run, length_m=self.run.length_m - 0.05), self.run)

    def test_a_way_that_leaves_the_old_one_is_not_followed(self):
        assert follows(self.run, evolve(self.run, routes=self.run.routes[:1]))
        assert not follows(evolve(self.run, routes=()), self.run)

    def test_another_connector_needs_another_cavity(self):
        configuration = loaded("van_original_ballast")
        through = next(run for run in configuration.runs.values() if run.connectors)
        assert passes_same_connectors(through, through)
        assert not passes_same_connectors(evolve(through, routes=()), through)
