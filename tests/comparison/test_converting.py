"""What a change of ground or voltage asks of a part that stays."""

from attrs import evolve
from pair_facts import loaded

from upgrade_planner.comparison.converting import conversions, treatments
from upgrade_planner.configuration.values.measures import volt

SALOON, NEGATIVE = loaded("saloon_original"), loaded("saloon_negative_dynamo")
TRACTOR, TWELVE = loaded("six_volt_tractor_original"), loaded("six_volt_tractor_twelve")


def one(configuration, family_or_kind):
    return next(part for part in configuration.components if part.kind == family_or_kind)


class TestWhatIsConverted:
    def test_nothing_without_a_change(self):
        assert conversions(SALOON, SALOON) == ()

    def test_ground_alone(self):
        assert conversions(SALOON, NEGATIVE) == ("ground",)

    def test_voltage_of_the_tractor(self):
        assert "voltage" in conversions(TRACTOR, TWELVE)

    def test_order_is_ground_then_voltage(self):
        vehicle = evolve(SALOON.vehicle, ground="negative", voltage_v=6.0)
        assert conversions(SALOON, evolve(SALOON, vehicle=vehicle)) == ("ground", "voltage")


class TestTreatment:
    def test_nothing_converted_asks_nothing(self):
        assert treatments(one(SALOON, "dynamo"), (), SALOON, SALOON) == ()

    def test_battery_is_turned_where_the_ground_changes_over(self):
        (treatment,) = treatments(one(SALOON, "battery"), ("ground",), SALOON, NEGATIVE)
        assert treatment.is_work
        assert treatment.phase

    def test_dynamo_stays_as_it_is_and_says_why(self):
        (treatment,) = treatments(one(SALOON, "dynamo"), ("ground",), SALOON, NEGATIVE)
        assert not treatment.is_work
        assert (treatment.phase, treatment.code) == ("", "")
        assert treatment.reason.code

    def test_part_that_is_marked_for_one_polarity_is_told_from_one_that_does_not_care(self):
        motor = one(SALOON, "motor")
        either = evolve(motor, ratings={**motor.ratings, "polarity": "either"})
        unknown = evolve(motor, ratings={k: v for k, v in motor.ratings.items() if k != "polarity"})
        assert [t.is_work for t in treatments(either, ("ground",), SALOON, NEGATIVE)] == [False]
        assert [t.is_work for t in treatments(unknown, ("ground",), SALOON, NEGATIVE)] == [True]

    def test_lamp_of_unknown_voltage_is_looked_at_where_the_voltage_changes(self):
        lamp = one(TRACTOR, "lamp")
        ratings = {k: v for k, v in lamp.ratings.items() if k != "rated_voltage"}
        (treatment,) = treatments(evolve(lamp, ratings=ratings), ("voltage",), TRACTOR, TWELVE)
        assert treatment.is_work
        assert treatment.voltage == volt(12.0)

    def test_part_with_a_rated_voltage_is_not_asked_for_it(self):
        lamp = one(TRACTOR, "lamp")
        rated = evolve(lamp, ratings={**lamp.ratings, "rated_voltage": 6.0})
        assert not any(t.is_work for t in treatments(rated, ("voltage",), TRACTOR, TWELVE))


class TestComputedReasons:
    """What a part carries on the other voltage is computed, not guessed."""

    def reason_of(self, role, after=TWELVE):
        (treatment,) = treatments(TRACTOR.component(role), ("voltage",), TRACTOR, after)
        return treatment.reason

    def test_start_switch_tells_what_passes_now_and_then(self):
        reason = self.reason_of("start_switch")
        assert reason.code == "starter-breaks-loose"
        assert reason.facts["old"].number > 100
        assert reason.facts["new"].number == 2 * reason.facts["old"].number

    def test_points_tell_the_current_of_the_coil(self):
        reason = self.reason_of("distributor")
        assert reason.code in ("coil-takes-more", "coil-takes-no-more")
        assert 1 < reason.facts["old"].number < 8

    def test_smaller_current_is_told_as_such(self):
        reason = self.reason_of("lamp_switch")
        assert reason.code == "passes-no-more"
        assert reason.facts["new"].number <= 1.1 * reason.facts["old"].number
