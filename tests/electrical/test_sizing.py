"""Automatic sizes: the smallest standard size that meets every condition, and what governed it."""

import pytest
from attrs import evolve
from hypothesis import given
from hypothesis import strategies as st

from upgrade_planner.configuration.loading import load_configuration
from upgrade_planner.configuration.values.sizes import AUTOMATIC, sizes_in
from upgrade_planner.electrical.allowable_current import allowable_current
from upgrade_planner.electrical.circuit import wire_ohms
from upgrade_planner.electrical.drop_limits import limit_for
from upgrade_planner.electrical.fusible_links import wire_protected_by
from upgrade_planner.electrical.sizing import NotSized, load_sized, requirements, sized

HEAD = '[configuration]\ntitle = "t"\nsummary = "s"\nbased_on = "{base}"\n[changes]\n'


def file_with(tmp_path, *changes, base="van_upgraded"):
    lines = ",\n".join(changes)
    path = tmp_path / "auto.toml"
    path.write_text(HEAD.format(base=base) + f"change_wires = [\n{lines}\n]\n")
    return str(path)


def automatic(wire_id):
    return f'{{ id = "{wire_id}", size = "auto" }}'


class TestChoice:
    WIRES = ("charge-output", "main-feed", "sensing", "head-fused", "temperature-sender")

    @pytest.fixture
    def result(self, tmp_path):
        return sized(load_configuration(file_with(tmp_path, *map(automatic, self.WIRES))))

    def test_nothing_automatic_is_left(self, result):
        made, choices = result
        assert set(choices) == set(self.WIRES)
        assert not any(wire.given_size == AUTOMATIC for wire in made.wires)

    def test_size_belongs_to_the_vehicle_and_one_smaller_would_fail(self, result):
        made, choices = result
        standard = sizes_in(made.vehicle.size_system)
        for choice in choices.values():
            index = standard.index(choice.size)
            assert choice.governing.size == choice.size
            if choice.runner_up is not None:
                assert choice.runner_up.size <= choice.size
            assert index > 0

    def test_charge_output_carries_the_rated_output_within_its_drop(self, result):
        made, choices = result
        wire = made.wire_by_id["charge-output"]
        rated = made.component("alternator").ratings["rated_output"]
        ambient = made.runs[wire.id].ambient_c
        assert allowable_current(wire.size, wire.insulation.rated_c, ambient).current_a >= rated
        limit = limit_for("charge output", rated, 12.0).limit_v
        assert wire_ohms(wire, made, wire.insulation.rated_c) * rated <= limit
        assert "drop" in choices["charge-output"].governing.condition

    def test_small_signal_wire_is_governed_by_strength(self, result):
        _, choices = result
        assert choices["temperature-sender"].governing.condition == "mechanical strength"
        assert choices["temperature-sender"].size.area_mm2 >= 0.75

    def test_fuse_and_link_ask_for_a_wire_that_outlasts_them(self, result):
        made, choices = result
        assert "fuse of 15" in choices["head-fused"].governing.condition
        ambient = made.runs["head-fused"].ambient_c
        wire = made.wire_by_id["head-fused"]
        assert allowable_current(wire.size, wire.insulation.rated_c, ambient).current_a >= 15
        link = made.wire_by_id["link"].size
        assert wire_protected_by(link) <= choices["main-feed"].size

    def test_choice_is_said_in_the_note_of_the_wire(self, result):
        made, choices = result
        for wire_id, choice in choices.items():
            assert choice.words in made.wire_by_id[wire_id].note


def test_a_small_load_behind_a_heavy_link_is_told_which_fuse_would_do(tmp_path):
    base = "six_volt_tractor_twelve"
    path = file_with(tmp_path, automatic("lamp-feed"), automatic("tail-lamp"), base=base)
    _, choices = sized(load_configuration(path))
    lamps = choices["lamp-feed"]
    assert lamps.governing.protects
    assert lamps.runner_up.size < lamps.size
    assert lamps.smaller_fuse_a == 10
    assert "a fuse of 10\N{NO-BREAK SPACE}A at its feed end" in lamps.words
    assert choices["tail-lamp"].smaller_fuse_a in (None, 2, 3)


def test_metric_vehicle_gets_metric_sizes(tmp_path):
    name = file_with(tmp_path, automatic("charge-output"), base="tractor_upgraded")
    (made,) = load_sized(name)
    assert made.wire_by_id["charge-output"].size.system == "mm²"


def test_configuration_without_automatic_sizes_is_left_alone(load):
    configuration = load("van_upgraded")
    assert sized(configuration) == (configuration, {})


def test_link_cannot_be_automatic(tmp_path):
    with pytest.raises(NotSized, match="link"):
        load_sized(file_with(tmp_path, automatic("link")))


@given(st.floats(0.5, 60), st.floats(0.5, 60))
def test_more_current_never_needs_a_smaller_size(one, other):
    configuration = load_configuration("van_upgraded")
    wire = configuration.wire_by_id["charge-output"]
    low, high = sorted((one, other))

    def needed(current):
        return max(r.size.area_mm2 for r in requirements(wire, configuration, current))

    assert needed(low) <= needed(high)


def test_impossible_current_is_told(load):
    configuration = load("van_upgraded")
    wire = configuration.wire_by_id["charge-output"]
    with pytest.raises(NotSized, match="charge-output"):
        list(requirements(wire, configuration, 5000.0))


def test_nothing_can_be_computed_with_a_size_that_is_still_to_be_chosen(load):
    wire = evolve(load("van_upgraded").wires[0], size=AUTOMATIC)
    with pytest.raises(TypeError, match="found an automatic size; expected a chosen one"):
        wire.size  # noqa: B018
