"""
The check pair, wire by wire.

Sizes and dispositions are common practice of the trade for this upgrade (points with resistance
wire and external regulator to integral-coil distributor and internally regulated alternator).
"""

from pathlib import Path

import pytest
from places import PROFILES

from upgrade_planner.comparison.comparing import DifferentVehicles, compare
from upgrade_planner.comparison.results import Policy
from upgrade_planner.comparison.wire_changes import FromVehicle, IntoTarget
from upgrade_planner.configuration.loading import load_configuration
from upgrade_planner.documents.words.reasons import reason_words

# wire before, size before, wire after, size after, disposition (reversible), disposition (clean)
TABLE = [
    ("battery-ground", "4 SAE", "battery-ground", "4 SAE", "keep", "keep"),
    ("body-ground", "10 SAE", "body-ground", "10 SAE", "keep", "keep"),
    ("starter-cable", "4 SAE", "starter-cable", "4 SAE", "keep", "keep"),
    ("battery-main", "10 SAE", "battery-main", "10 SAE", "keep", "keep"),
    ("charge-output", "12 SAE", "charge-output", "10 SAE", "resize", "resize"),
    ("regulator-supply", "12 SAE", None, None, "remove", "remove"),
    ("regulator-ground", "16 SAE", None, None, "remove", "remove"),
    ("field", "20 SAE", None, None, "remove", "remove"),
    ("field-relay", "20 SAE", None, None, "remove", "remove"),
    ("link", "16 SAE", "link", "14 SAE", "resize", "resize"),
    ("main-feed", "12 SAE", "main-feed", "10 SAE", "resize", "resize"),
    ("key-feed", "12 SAE", "key-feed", "12 SAE", "keep", "keep"),
    ("fuse-box-feed", "12 SAE", "fuse-box-feed", "12 SAE", "keep", "keep"),
    ("lamp-feed", "12 SAE", "lamp-feed", "12 SAE", "keep", "keep"),
    ("start-interlock", "12 SAE", "start-interlock", "12 SAE", "keep", "keep"),
    ("start-signal", "12 SAE", "start-signal", "12 SAE", "keep", "keep"),
    ("start-bypass", "14 SAE", None, None, "cap off", "remove"),
    ("ignition-resistance", "20 AWG", None, None, "cap off", "remove"),
    (None, None, "ignition-feed", "12 SAE", "add", "add"),
    ("points-lead", "16 SAE", None, None, "remove", "remove"),
    ("charge-lamp", "20 SAE", None, None, "cap off", "remove"),
    (None, None, "charge-lamp", "16 SAE", "add", "add"),
    ("lamp-resistance", "24 AWG", "lamp-resistance", "24 AWG", "keep", "keep"),
    ("charge-lamp-supply", None, "charge-lamp-supply", None, "keep", "keep"),
    (None, None, "sensing", "14 SAE", "add", "add"),
    ("tachometer", "16 SAE", "tachometer", "16 SAE", "move", "move"),
    ("heater", None, "heater", None, "keep", "keep"),
    ("heater-feed", None, "heater-feed", None, "keep", "keep"),
    ("lamp", None, "lamp", None, "keep", "keep"),
]


@pytest.fixture
def before(load):
    return load(str(PROFILES / "check_before.toml"))


@pytest.fixture
def after(load):
    return load(str(PROFILES / "check_after.toml"))


def rows(comparison):
    return {
        (
            c.before.id if isinstance(c, FromVehicle) else None,
            c.after.id if isinstance(c, IntoTarget) else None,
        ): c
        for c in comparison.wires
    }


@pytest.mark.parametrize("policy", list(Policy))
def test_dispositions_line_by_line(before, after, policy):
    comparison = compare(before, after, policy)
    column = 4 if policy is Policy.REVERSIBLE else 5
    expected = {(row[0], row[2]): row[column] for row in TABLE}
    assert {key: str(c.disposition) for key, c in rows(comparison).items()} == expected


def size(wire):
    return wire and wire.size.label.replace("\N{NO-BREAK SPACE}", " ")


def test_sizes_line_by_line(before, after):
    found = rows(compare(before, after))
    for old, old_size, new, new_size, *_ in TABLE:
        change = found[(old, new)]
        if old_size:
            assert size(change.before) == old_size, old
        if new_size:
            assert size(change.after) == new_size, new


def test_resistances_of_the_two_resistance_wires(before):
    assert before.wire_by_id["ignition-resistance"].resistance_ohm == 1.35
    assert before.wire_by_id["lamp-resistance"].resistance_ohm == 10.0


def test_parts_off_and_parts_on(before, after):
    parts = {c.role: str(c.disposition) for c in compare(before, after).parts}
    changed = {role: what for role, what in parts.items() if what != "keep"}
    assert changed == {
        "alternator": "replace",
        "coil": "remove",
        "distributor": "replace",
        "regulator": "remove",
    }


def test_reasons_say_what_the_trade_says(before, after):
    found = rows(compare(before, after))
    resistance = reason_words(found[("ignition-resistance", None)].reasons, "metric")
    assert "full battery voltage" in resistance
    assert "Never use this wire as its feed" in resistance
    bypass = reason_words(found[("start-bypass", None)].reasons, "metric")
    assert "bypass contact of solenoid or relay stays empty" in bypass
    feed = reason_words(found[(None, "ignition-feed")].reasons, "metric")
    assert "Plain copper" in feed
    assert "live in run and start" in feed
    sensing = reason_words(found[(None, "sensing")].reasons, "metric")
    assert "main junction" in sensing
    assert "not the alternator's own output" in sensing
    assert "50\N{NO-BREAK SPACE}A" in reason_words(
        found[("charge-output", "charge-output")].reasons, "metric"
    )


def test_new_feed_passes_the_bulkhead_connector(after):
    assert after.runs["ignition-feed"].connectors == ("bulkhead_connector",)


def test_sensing_joins_the_main_junction(after):
    ends = {str(ref) for ref in after.wire_by_id["sensing"].ends}
    assert ends == {"alternator.sense", "main_junction.stud"}


def test_configurations_of_two_vehicles_are_told_with_the_files_of_the_user(load, tmp_path):
    mine = tmp_path / "my_van.toml"
    shipped = load("van_upgraded")
    mine.write_bytes(Path(shipped.file).read_bytes())
    with pytest.raises(DifferentVehicles) as caught:
        compare(load_configuration(str(mine)), load("tractor_upgraded"))
    assert f"'my_van' ({mine}) for the vehicle" in str(caught.value)
    assert "'tractor_upgraded' for the vehicle" in str(caught.value)
