"""The loss from output to battery: one figure, whoever names it."""

import pytest
from every_case import every_case
from shipped_pairs import SHIPPED_PAIRS

from upgrade_planner.comparison.comparing import compare
from upgrade_planner.documents.words.reasons import reason_words
from upgrade_planner.electrical.mean_points import mean_of
from upgrade_planner.electrical.operating_points import operating_point
from upgrade_planner.electrical.output_drop import WORKING_C, drop_in, output_of, rated_drop_v
from upgrade_planner.electrical.performance import performance
from upgrade_planner.electrical.states import LOADED, STATES


@every_case("name", ["van_upgraded", "tractor_upgraded"])
def test_rated_drop_is_that_of_the_element_that_the_network_has(load, name):
    """Metal and joints: what the network loses in the wire, brought to rated output."""
    configuration = load(name)
    (wire,) = (w for w in configuration.wires if w.circuit == "charge output")
    alternator = configuration.component("alternator")
    point = operating_point(configuration, LOADED)
    ohms = point.wire_drop_v(wire) / abs(point.wire_current_a(wire.id))
    warmer = 1.0 + 0.0039 * (WORKING_C - point.temperature_c[wire.id])
    expected_v = ohms * warmer * alternator.ratings["rated_output"]
    assert rated_drop_v(wire, alternator, configuration) == pytest.approx(expected_v, rel=0.05)


@every_case(("before", "after"), SHIPPED_PAIRS)
def test_reason_of_a_sensing_wire_names_the_same_figure(load, before, after):
    comparison = compare(load(before), load(after))
    said = [reason_words(change.reasons, "metric") for change in comparison.wires]
    told = [words for words in said if "At full output that is" in words]
    for reason in told:
        (wire,) = (w for w in comparison.after.wires if w.circuit == "charge output")
        drop_v = rated_drop_v(wire, comparison.after.component("alternator"), comparison.after)
        assert f"that is {drop_v:.2f}\N{NO-BREAK SPACE}V" in reason


@every_case("name", ["van_upgraded", "saloon_original"])
def test_loss_with_loads_on_counts_from_the_output_to_the_battery(load, name):
    configuration = load(name)
    points = {state.name: operating_point(configuration, state) for state in STATES}
    (machine,) = (c for c in configuration.components if c.role in ("alternator", "dynamo"))
    loaded = mean_of(points["loaded"])  # coils of a running engine take their mean current
    lost_v = loaded.live_v(output_of(machine)) - loaded.battery_v
    assert drop_in(loaded, machine) == lost_v == performance(configuration, points).output_drop_v
