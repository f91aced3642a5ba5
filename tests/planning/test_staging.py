"""Upgrades in stages: the same end as in one job, and no wire fitted twice without need."""

from collections import Counter
from functools import cache

import pytest
from attrs import evolve
from chains import carried_on, chains, spec, vehicle_of
from drawn_once import of_each

from upgrade_planner.checks.checking import check
from upgrade_planner.comparison.chain import Fits, new_findings, stages_of
from upgrade_planner.comparison.comparing import DifferentVehicles
from upgrade_planner.comparison.results import Policy
from upgrade_planner.comparison.reuse import shortfalls
from upgrade_planner.comparison.staging import NoStage, staged
from upgrade_planner.comparison.why import because
from upgrade_planner.comparison.wire_changes import Disposition, FromVehicle, IntoTarget
from upgrade_planner.configuration.values.sizes import parse_wire_size
from upgrade_planner.documents.words.reasons import reason_words
from upgrade_planner.planning.plan import plan_for, plan_upgrade
from upgrade_planner.planning.stages import between, staged_job

_staged_once = cache(staged)


def staged_once(chain, policy=Policy.REVERSIBLE):
    return _staged_once(chain, policy)


def carried_through(staging):
    """The vehicle after each stage, each begun where the last one ended."""
    vehicle = vehicle_of(staging.planned[0])
    for comparison in staging.comparisons:
        vehicle = carried_on(plan_for(comparison), vehicle)
        yield vehicle


class TestGenerated:
    @of_each(30, chains, policies=True)
    def test_stages_end_where_one_job_ends(self, chain, policy):
        chain = chain[:3]
        staging = staged_once(chain, policy)
        *_, in_stages = carried_through(staging)
        direct = plan_upgrade(chain[0], chain[-1], policy)
        at_once = carried_on(direct, vehicle_of(chain[0]))
        wanted = {p.role: p.kind for p in chain[-1].components if p.kind != "splice"}
        for vehicle in (in_stages, at_once):
            assert set(vehicle.conductors) == {wire.id for wire in chain[-1].wires}
            for wire in chain[-1].wires:
                assert vehicle.conductors[wire.id].joined == set(wire.ends)
                assert shortfalls(vehicle.conductors[wire.id].wire, wire) == ()
            assert {r: k for r, k in vehicle.parts.items() if k != "splice"} == wanted

    @of_each(30, chains, policies=True)
    def test_a_stage_begins_with_what_the_last_one_really_left(self, chain, policy):
        chain = chain[:3]
        staging = staged_once(chain, policy)
        comparisons = staging.comparisons
        for vehicle, following in zip(carried_through(staging), comparisons[1:], strict=False):
            built = following.before
            assert {w.id: (spec(w), set(w.ends)) for w in built.wires} == {
                name: (spec(item.wire), item.joined) for name, item in vehicle.conductors.items()
            }

    @of_each(25, chains, policies=True)
    def test_only_wires_fitted_ahead_differ_and_none_is_worse(self, chain, policy):
        staging = staged_once(chain, policy)
        assert staging.configurations[0] is chain[0]
        assert staging.configurations[-1] is chain[-1]
        ahead = {item.planned.id for item in staging.ahead}
        for planned, made in zip(chain, staging.configurations, strict=True):
            assert made.components == planned.components
            for old, new in zip(planned.wires, made.wires, strict=True):
                assert (old.id, old.ends, old.circuit) == (new.id, new.ends, new.circuit)
                assert (old.conductor, old.resistance_ohm) == (new.conductor, new.resistance_ohm)
                assert new.size.area_mm2 >= old.size.area_mm2
                assert new.insulation.rated_c >= old.insulation.rated_c
                if spec(old) != spec(new):
                    assert {w.id for w in made.wires} & ahead
        if not staging.ahead:
            assert all(m is p for m, p in zip(staging.configurations, chain, strict=True))

    @of_each(25, chains, policies=True)
    def test_what_is_fitted_twice_is_named_with_its_reason(self, chain, policy):
        staging = staged_once(chain, policy)
        excused = {(item.stage, item.planned.id) for item in staging.not_ahead}
        assert all(item.why for item in staging.not_ahead)
        for stage, comparison in enumerate(staging.comparisons, start=1):
            fitted = [c.wire.id for c in comparison.wires if isinstance(c, Fits)]
            for wire_id in fitted:
                if _resized_later(wire_id, staging.comparisons[stage:]):
                    assert (stage, wire_id) in excused

    @of_each(25, chains)
    def test_fitting_ahead_brings_no_new_danger_or_warning(self, chain):
        chain = chain[:3]
        staging = staged_once(chain)
        for planned, made in zip(chain, staging.configurations, strict=True):
            assert new_findings(check(planned), check(made)) == ()

    @of_each(40, chains, policies=True)
    def test_a_stage_that_changes_nothing_has_no_wiring_operation(self, chain, policy):
        before, after, *_ = chain
        assert stages_of((before, after, after), policy)[1].is_empty

    @of_each(60, chains)
    def test_dead_wires_of_earlier_stages_leave_room_in_connectors(self, chain):
        held = Counter()
        for comparison in stages_of(chain, Policy.REVERSIBLE):
            runs = comparison.before.runs
            for change in comparison.wires:
                if change.capped_wire is not None:
                    held.update(runs[change.capped_wire.id].connectors)
            live = Counter(
                role for run in comparison.after.runs.values() for role in run.connectors
            )
            for part in comparison.after.components:
                if part.kind == "connector" and held[part.role]:
                    assert held[part.role] + live[part.role] <= part.ratings["cavities"]


def _resized_later(wire_id, comparisons):
    for comparison in comparisons:
        known = (c for c in comparison.wires if isinstance(c, FromVehicle))
        change = next(c for c in known if c.before.id == wire_id)
        if change.disposition is Disposition.RESIZE:
            return True
        if not isinstance(change, IntoTarget) or change.disposition is Disposition.MOVE:
            return False
        wire_id = change.after.id
    return False


def changed(configuration, name, **wires):
    """The same configuration under another name, some wires with other attributes."""
    made = tuple(evolve(w, **wires.get(w.id.replace("-", "_"), {})) for w in configuration.wires)
    return evolve(configuration, name=name, title=name, wires=made, digest=name)


def with_size(configuration, **sizes):
    return changed(
        configuration, "stage 1", **{w: {"size": parse_wire_size(s)} for w, s in sizes.items()}
    )


@pytest.fixture(scope="module")
def original(load):
    return load("van_original_resistance")


@pytest.fixture(scope="module")
def upgraded(load):
    return load("van_upgraded")


class TestVan:
    def test_a_wire_of_stage_1_is_fitted_in_the_size_of_stage_2(self, original, upgraded):
        thinner = with_size(upgraded, main_feed="10 SAE")
        staging = staged((original, thinner, upgraded))
        (item,) = staging.ahead
        assert (item.planned.size.label, item.fitted.size) == (
            parse_wire_size("10 SAE").label,
            upgraded.wire_by_id["main-feed"].size,
        )
        change = next(c for c in staging.comparisons[0].wires if c.wire.id == "main-feed")
        assert "Stage 1 alone needs" in reason_words(change.reasons, "metric")
        assert change.reasons[-1].facts["for_stage"] == 2
        assert plan_for(staging.comparisons[1]).operations == ()

    def test_one_wire_over_three_stages_takes_the_last_size_at_once(self, original, upgraded):
        first = with_size(original, main_feed="8 SAE")
        second = changed(first, "stage 2", main_feed={"size": parse_wire_size("6 SAE")})
        third = changed(first, "stage 3", main_feed={"size": parse_wire_size("4 SAE")})
        staging = staged((original, first, second, third))
        assert [(i.stage, i.for_stage, i.fitted.size.label) for i in staging.ahead] == [
            (1, 3, parse_wire_size("4 SAE").label)
        ]
        assert staging.comparisons[1].is_empty
        assert staging.comparisons[2].is_empty

    def test_a_resistance_wire_is_never_fitted_ahead(self, original):
        wire = original.wire_by_id["ignition-resistance"]
        stages = [
            changed(original, f"{ohms}", ignition_resistance={"resistance_ohm": ohms})
            for ohms in (1.5, 1.8)
        ]
        staging = staged((original, *stages))
        assert staging.ahead == ()
        (item,) = staging.not_ahead
        assert (item.planned.id, item.why) == (wire.id, because("own-resistance"))

    def test_a_link_that_would_not_protect_is_not_fitted_ahead(self, upgraded):
        """A heavier link waits for the heavier wires behind it: stage 2 renews one of them."""
        old = with_size(
            upgraded, battery_link="14 SAE", battery_main="10 SAE", charge_output="8 SAE"
        )
        first = changed(
            old,
            "first",
            battery_link={"size": parse_wire_size("12 SAE")},
            battery_main={"size": parse_wire_size("8 SAE")},
        )
        staging = staged((old, first, upgraded))
        refused = {item.planned.id: item.why for item in staging.not_ahead}
        assert "battery-link" in refused
        assert refused["battery-link"].finding.code.startswith("PROT-")
        assert "battery-main" in {item.planned.id for item in staging.ahead}

    def test_a_link_comes_along_once_the_wires_behind_it_do(self, upgraded):
        """It is looked at before them: what is refused is tried again."""
        old = with_size(
            upgraded, battery_link="14 SAE", battery_main="10 SAE", charge_output="10 SAE"
        )
        heavier = parse_wire_size("8 SAE")
        first = changed(
            old,
            "first",
            battery_link={"size": parse_wire_size("12 SAE")},
            battery_main={"size": heavier},
            charge_output={"size": heavier},
        )
        staging = staged((old, first, upgraded))
        assert staging.not_ahead == ()
        ids = [item.planned.id for item in staging.ahead]
        assert set(ids) == {"battery-link", "battery-main", "charge-output"}
        assert ids.index("battery-main") < ids.index("battery-link")
        assert staging.comparisons[1].is_empty

    def test_a_way_that_is_longer_later_is_not_fitted_ahead(self, original):
        first = with_size(original, main_feed="8 SAE")
        last = changed(original, "last", main_feed={"size": parse_wire_size("6 SAE")})
        run = last.runs["main-feed"]
        longer = evolve(run, length_m=run.length_m + 0.5)
        last = evolve(last, runs={**last.runs, "main-feed": longer})
        staging = staged((original, first, last))
        assert staging.ahead == ()
        whys = [item.why for item in staging.not_ahead]  # the link in its splice is renewed, too
        assert because("longer-way-later", stage=2) in whys

    def test_a_kept_wire_that_is_large_enough_already_is_not_renewed(self, original):
        """Stage 2 starts from the conductor that is in the vehicle, not from what stage 1 asks."""
        thick = changed(original, "thick", main_feed={"size": parse_wire_size("6 SAE")})
        thin = changed(
            original,
            "thin",
            main_feed={"size": parse_wire_size("12 SAE")},
            horn={"size": parse_wire_size("12 SAE")},
        )
        last = changed(original, "last", main_feed={"size": parse_wire_size("8 SAE")})
        staging = staged((thick, thin, last))
        second = {c.wire.id: c.disposition for c in staging.comparisons[1].wires}
        assert second["main-feed"] is Disposition.KEEP

    def test_what_a_later_stage_takes_out_again_is_named(self, original, upgraded):
        staging = staged((upgraded, original, upgraded))
        assert {(u.what, u.is_part) for u in staging.undone if u.stage == 1} >= {
            ("coil", True),
            ("regulator", True),
            ("field", False),
        }

    def test_other_vehicle_in_the_middle_is_refused(self, original, upgraded, load):
        with pytest.raises(DifferentVehicles):
            staged((original, load("tractor_original"), upgraded))

    def test_the_same_wiring_twice_is_refused_and_the_stage_named(self, original, upgraded):
        with pytest.raises(NoStage, match="stage 2"):
            staged((original, upgraded, upgraded))

    def test_two_configurations_are_one_plain_job(self, original, upgraded):
        staging = staged((original, upgraded))
        assert (staging.ahead, staging.not_ahead, len(staging.comparisons)) == ((), (), 1)
        plain = plan_upgrade(original, upgraded)
        assert plan_for(staging.comparisons[0]).check_code == plain.check_code


class TestBetween:
    def test_a_danger_forbids_driving(self, load):
        upgraded = load("van_upgraded")
        wires = tuple(w for w in upgraded.wires if w.id != "sensing")
        first = evolve(upgraded, wires=wires, digest="first")
        job = staged_job((load("van_original_resistance"), first, upgraded))
        found = between(job.plans[0])
        assert "CHG-SENSE-OPEN" in {f.code for f in found.dangers}
        assert "CHG-SENSE-OPEN" in {f.code for f in found.new}
        assert found.watched == ()

    def test_old_warnings_are_told_from_new_ones(self, load):
        original = load("van_original_resistance")
        first = with_size(original, horn="12 SAE")
        job = staged_job((original, first, load("van_upgraded")))
        found = between(job.plans[0])
        assert found.dangers == ()
        assert found.warnings
        assert found.new == ()

    def test_readings_to_watch_are_those_that_warned_wires_move(self, load):
        original = load("van_original_resistance")
        plan = plan_upgrade(load("van_upgraded"), original)
        found = between(plan)
        warned = {name for f in found.warnings for name in f.where}
        assert 1 <= len(found.watched) <= 4
        for reading in found.watched:
            suspects = plan.expected[reading.id].suspects
            assert {s.wire or s.part for s in suspects} & warned
            assert reading.group == "running"

    def test_without_warnings_the_charging_is_watched(self, load):
        plan = plan_upgrade(load("van_original_resistance"), load("van_upgraded"))
        assert {r.id for r in between(plan).watched} == {"charging-voltage", "charging-idling"}
