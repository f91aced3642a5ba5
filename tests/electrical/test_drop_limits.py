"""Voltage-drop limits against their sources, and drop and copper against worked examples."""

import math
import tomllib
from importlib.resources import files

import pytest
from every_case import every_case
from hypothesis import given
from hypothesis import strategies as st
from published import approx_row, number, rows, table
from worked_formulas import area_for_drop_mm2

from upgrade_planner.configuration.files.own_data import data_rows
from upgrade_planner.configuration.values.sizes import parse_wire_size, sizes_in
from upgrade_planner.electrical import drop_limits
from upgrade_planner.electrical.drop_limits import limit_for

M_PER_FOOT = 0.3048
MM2_PER_CIRCULAR_MIL = 5.06707e-4
MARINE_C = 29.3  # copper whose resistivity is the marine 10.75 Ω·cmil/ft, see its test
CIRCUITS = list(
    tomllib.loads(
        files("upgrade_planner.configuration").joinpath("data/circuits.toml").read_text("utf-8")
    )
)
# Row of the reference, circuit, part, current that the source names
PUBLISHED = [
    ("cha-034", "charge output", "", 10),
    ("cha-036", "charge output", "in use", 20),
    ("cha-037", "charge output", "ground side", 20),
    ("sta-001", "starter cable", "cable under 3 ft", 150),
    ("sta-002", "starter cable", "cable 3 to 6 ft", 150),
    ("sta-003", "starter cable", "mechanical switch", 150),
    ("sta-004", "starter cable", "solenoid switch", 150),
    ("sta-006", "starter cable", "connection", 150),
    ("sta-007", "starter cable", "ground side", 150),
    ("sta-007", "ground", "", 150),
    ("sta-009", "starter cable", "", 100),
    ("sta-009", "battery cable", "", 100),
    ("sta-010", "starter cable", "battery to solenoid", 150),
    ("sta-011", "battery cable", "own clamp", 150),
    ("sta-014", "start signal", "in use", 20),
    ("sta-017", "start signal", "", 20),
    ("sta-037", "starter cable", "disconnect switch", 150),
    ("sta-039", "ground", "", 30),
    ("ign-009", "ignition feed", "with ballast", 4),
    ("ign-011", "start bypass", "", 4),
    ("ign-012", "ignition primary", "", 4),
]
PUBLISHED_24_V = [
    ("sta-016", "battery cable", "both cables", 250),
    ("sta-018", "start signal", "", 20),
    ("sta-032", "starter cable", "battery to solenoid", 150),
]

circuits = st.sampled_from(CIRCUITS)
currents_a = st.floats(min_value=0.01, max_value=400)
voltages_v = st.sampled_from([6.0, 12.0, 24.0])


class TestLimits:
    @every_case(("row_id", "circuit", "part", "current_a"), PUBLISHED)
    def test_limit_of_a_12_v_system_is_the_published_one(self, row_id, circuit, part, current_a):
        row = table("drop_limits.csv")[row_id]
        found = limit_for(circuit, current_a, 12, part=part)
        assert found.limit_v == approx_row(row)
        assert found.status == row["status"]

    @every_case(("row_id", "circuit", "part", "current_a"), PUBLISHED_24_V)
    def test_limit_of_a_24_v_system_is_the_published_one(self, row_id, circuit, part, current_a):
        row = table("drop_limits.csv")[row_id]
        found = limit_for(circuit, current_a, 24, part=part)
        assert found.limit_v == approx_row(row)
        assert found.status == row["status"]

    def test_starter_path_loses_a_fifth_of_a_volt_per_100_a(self):
        assert limit_for("starter cable", 250, 12).limit_v == pytest.approx(0.5)

    def test_main_feed_may_lose_2_percent_of_the_regulated_voltage(self):
        # Aviation mechanic training text; 14 V regulated: 0.28 V
        found = limit_for("main feed", 30, 12)
        assert found.limit_v == pytest.approx(0.28)
        assert found.status == "secondary"

    def test_marine_practice_of_3_percent_is_0_36_v(self):
        row = table("drop_and_derating.csv")["vd-marine-cm3"]
        assert limit_for("lamps", 10, 12).limit_v == pytest.approx(number(row, r"E=([\d.]+) V"))

    def test_marine_practice_of_10_percent_is_1_2_v(self):
        row = table("drop_and_derating.csv")["vd-marine-awg10"]
        assert limit_for("heater", 10, 12).limit_v == pytest.approx(number(row, r"= ([\d.]+) V"))
        assert limit_for("lamps", 10, 12, part="ordinary").limit_v == pytest.approx(1.2)

    def test_engine_maker_allows_5_percent(self):
        row = table("drop_and_derating.csv")["vd-eng-limit"]
        assert limit_for("field", 3, 12).limit_v == approx_row(row)

    def test_charge_limit_beyond_the_test_current_is_our_assumption(self):
        assert limit_for("charge output", 10, 12).status == "seen"
        beyond = limit_for("charge output", 45, 12)
        assert (beyond.limit_v, beyond.status) == (0.3, "assumption")

    def test_6_v_system_gets_half_and_says_so(self):
        found = limit_for("start bypass", 4, 6)
        assert found.limit_v == pytest.approx(0.05)
        assert found.status == "assumption"
        assert "scaled to 6 V" in found.source

    def test_24_v_limits_are_double_as_the_manual_doubles_them(self):
        twelve, twenty_four = (
            table("drop_limits.csv")[row_id]["value"] for row_id in ("sta-017", "sta-018")
        )
        assert float(twenty_four) == 2 * float(twelve)
        assert limit_for("start bypass", 4, 24).limit_v == pytest.approx(0.2)

    def test_share_of_the_voltage_needs_no_scaling(self):
        found = limit_for("lamps", 5, 6)
        assert found.limit_v == pytest.approx(0.18)
        assert found.status == "secondary"

    @every_case("circuit", CIRCUITS)
    def test_every_circuit_has_a_limit_with_a_source(self, circuit):
        found = limit_for(circuit, 10, 12)
        assert 0 < found.limit_v < 1.21
        assert found.source
        assert found.status in {"seen", "secondary", "assumption"}

    @every_case("row", data_rows(drop_limits.__package__, "drop_limits.csv"))
    def test_every_part_has_a_limit(self, row):
        assert limit_for(row["circuit"], 10, 12, part=row["part"]).limit_v >= 0

    def test_what_we_chose_is_called_an_assumption(self):
        for circuit in ("sensing", "regulator supply", "ignition feed", "tachometer", "trigger"):
            found = limit_for(circuit, 1, 12)
            assert found.status == "assumption"
            assert "our assumption" in found.source

    @given(circuits, currents_a, voltages_v, st.floats(min_value=1, max_value=5))
    def test_limit_never_falls_with_current(self, circuit, current_a, voltage_v, ratio):
        less = limit_for(circuit, current_a, voltage_v).limit_v
        assert limit_for(circuit, current_a * ratio, voltage_v).limit_v >= less

    @given(circuits, currents_a)
    def test_limit_rises_with_the_system_voltage(self, circuit, current_a):
        six, twelve, twenty_four = (
            limit_for(circuit, current_a, volts).limit_v for volts in (6, 12, 24)
        )
        assert six < twelve < twenty_four

    def test_unknown_circuit_or_part_is_refused(self):
        with pytest.raises(ValueError, match="found winch"):
            limit_for("winch", 10, 12)
        with pytest.raises(ValueError, match="a part of horn"):
            limit_for("horn", 10, 12, part="ground side")

    def test_impossible_arguments_are_refused(self):
        with pytest.raises(ValueError, match="current_a"):
            limit_for("horn", math.nan, 12)
        with pytest.raises(ValueError, match="system_voltage_v"):
            limit_for("horn", 10, 0)


def circular_mils(current_a, length_ft, limit_v):
    area_mm2 = area_for_drop_mm2(current_a, length_ft * M_PER_FOOT, limit_v, MARINE_C)
    return area_mm2 / MM2_PER_CIRCULAR_MIL


def smallest(system, needed_circular_mils):
    """Designation of the smallest even size; the charts have no odd ones."""
    return next(
        size.designation
        for size in sizes_in(system)
        if size.area_mm2 / MM2_PER_CIRCULAR_MIL >= needed_circular_mils
        and size.designation not in {"3", "1"}
    )


class TestArea:
    def test_marine_formula(self):
        # K 10.75: 10.75 · 10 · 21/0.36 = 6271 circular mil
        row = table("drop_and_derating.csv")["vd-marine-cm3"]
        assert circular_mils(10, 21, 0.36) == approx_row(row)

    @every_case(
        ("row_id", "current_a", "length_ft", "limit_v"),
        [
            ("vd-marine-awg3", 10, 21, 0.36),
            ("vd-marine-awg10", 10, 21, 1.2),
            ("vd-famps-1", 45, 40, 1.2),
        ],
    )
    def test_size_of_worked_examples(self, row_id, current_a, length_ft, limit_v):
        row = table("drop_and_derating.csv")[row_id]
        assert smallest("AWG", circular_mils(current_a, length_ft, limit_v)) == row["value"]

    @every_case("row", rows("drop_and_derating.csv", "vd-t3-"))
    def test_sizes_of_the_3_percent_chart(self, row):
        """
        Of 30 cells 27 follow from AWG copper; three print the size that SAE copper needs.

        Those three are 15 ft at 90 A and 20 ft at 10 and 25 A, one size up: the safe side.
        """
        length_ft = number(row, r"(\d+) ft total")
        needed = circular_mils(number(row, r"; (\d+) A"), length_ft, 0.36)
        on_sae = row["id"] in {"vd-t3-15-90", "vd-t3-20-10", "vd-t3-20-25"}
        assert smallest("SAE" if on_sae else "AWG", needed) == row["value"]
        assert (smallest("AWG", needed) != row["value"]) == on_sae

    @given(
        currents_a, st.floats(0.1, 50), st.floats(0.01, 2), st.floats(-40, 150), st.floats(1.01, 9)
    )
    def test_area_keeps_the_drop(self, current_a, length_m, limit_v, conductor_c, ratio):
        area_mm2 = area_for_drop_mm2(current_a, length_m, limit_v, conductor_c)
        assert area_for_drop_mm2(current_a * ratio, length_m, limit_v, conductor_c) > area_mm2
        ohm_per_m = 0.017241 / area_mm2 * (234.5 + conductor_c) / 254.5
        assert current_a * length_m * ohm_per_m == pytest.approx(limit_v)

    def test_larger_sae_number_needs_a_larger_size_than_awg(self):
        # 10 A, 21 ft, 0.36 V needs 12 AWG but 10 SAE
        needed_mm2 = circular_mils(10, 21, 0.36) * MM2_PER_CIRCULAR_MIL
        assert parse_wire_size("12 SAE").area_mm2 < needed_mm2 < parse_wire_size("12 AWG").area_mm2
