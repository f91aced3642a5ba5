"""Resistance and diameter of copper conductors against published tables."""

import math

import pytest
from every_case import every_case
from hypothesis import given
from hypothesis import strategies as st
from published import approx_row, table

from upgrade_planner.configuration.values.sizes import (
    METRIC,
    SYSTEMS,
    WireSize,
    gauge_number,
    parse_wire_size,
    sizes_in,
)
from upgrade_planner.electrical.conductors import (
    COPPER_RESISTIVITY_20C_OHM_MM2_PER_M,
    COPPER_ZERO_RESISTANCE_C,
    REFERENCE_C,
    resistance_20c_per_m,
    resistance_at,
    wire_resistance,
)

MM_PER_INCH = 25.4
M_PER_FOOT = 0.3048
MM2_PER_CIRCULAR_MIL = 5.06707e-4  # (pi/4) x (0.001 in)²

systems = st.sampled_from(SYSTEMS)
all_sizes = st.sampled_from([size for system in SYSTEMS for size in sizes_in(system)])
temperatures_c = st.floats(min_value=-40, max_value=250)
resistances_ohm = st.floats(min_value=1e-6, max_value=1e3)


def rows(file_name, start, *, quantity, unit, conditions=""):
    """Rows of one kind, as parameters named by their id."""
    return [
        pytest.param(row, id=row_id)
        for row_id, row in table(file_name).items()
        if row_id.startswith(start)
        and row["quantity"] == quantity
        and row["unit"] == unit
        and conditions in row["conditions"]
    ]


def awg(row):
    return parse_wire_size(f"{row['size']} AWG")


def diameter_mm(size):
    """Of a solid round wire of that area."""
    return 2 * math.sqrt(size.area_mm2 / math.pi)


class TestGaugeGeometry:
    @every_case("row", rows("awg.csv", "awg-", quantity="diameter", unit="in"))
    def test_diameter_in_inches_matches_the_table(self, row):
        assert diameter_mm(awg(row)) / MM_PER_INCH == approx_row(row)

    @every_case("row", rows("awg.csv", "awg-", quantity="diameter", unit="mm"))
    def test_diameter_in_millimetres_matches_the_table(self, row):
        assert diameter_mm(awg(row)) == approx_row(row)

    @every_case("size", sizes_in("AWG"))
    def test_tabulated_area_is_that_of_the_formula(self, size):
        # ASTM B258: from gauge 36, 0.005 in, it grows 92-fold in 39 equal ratios to 4/0; the table
        # of sizes keeps six digits.
        formula_mm = 0.005 * MM_PER_INCH * 92 ** ((36 - gauge_number(size)) / 39)
        assert diameter_mm(size) == pytest.approx(formula_mm, rel=2.5e-6)


class TestCopper:
    def test_resistivity_is_that_of_the_iacs(self):
        known = table("awg.csv")
        assert approx_row(known["iacs-vol-rho"]) == COPPER_RESISTIVITY_20C_OHM_MM2_PER_M
        # 1 Ω·mm²/m is the reciprocal of 1 MS/m; five digits printed
        conductivity = 1 / COPPER_RESISTIVITY_20C_OHM_MM2_PER_M
        assert conductivity == pytest.approx(float(known["iacs-sigma"]["value"]), rel=1e-4)

    def test_zero_resistance_temperature_is_published(self):
        row = table("awg.csv")["cu-inferred-zero"]
        assert approx_row(row) == COPPER_ZERO_RESISTANCE_C

    def test_temperature_rule_is_that_of_the_iacs_coefficient(self):
        # 1/(234.5 + 20) = 0.0039293; the table prints three digits
        coefficient = resistance_at(1.0, REFERENCE_C + 1) - 1.0
        published = float(table("awg.csv")["iacs-alpha20"]["value"])
        assert coefficient == pytest.approx(published, abs=0.000005)

    def test_resistivity_in_the_units_of_the_trade(self):
        # Marine practice (10.75, copper at about 29 °C) and pure copper (10.09) are other bases.
        ohm_circular_mil_per_ft = (
            COPPER_RESISTIVITY_20C_OHM_MM2_PER_M / MM2_PER_CIRCULAR_MIL * M_PER_FOOT
        )
        assert ohm_circular_mil_per_ft == approx_row(table("awg.csv")["cu-cmil-ft"])


class TestResistanceOfGauges:
    @every_case("row", rows("awg.csv", "awg-", quantity="resistance", unit="ohm/1000 ft"))
    def test_awg_resistance_per_1000_ft_matches_the_table(self, row):
        assert resistance_20c_per_m(awg(row)) * 1000 * M_PER_FOOT == approx_row(row)

    @every_case("row", rows("awg.csv", "awg-", quantity="resistance", unit="ohm/km"))
    def test_awg_resistance_per_km_matches_the_table(self, row):
        # 22 AWG only just: the table prints 52.7, but its own area (642.4 circular mil) gives
        # 52.97. The slip is the table's; its neighbour 24 AWG agrees to the last digit.
        assert resistance_20c_per_m(awg(row)) * 1000 == approx_row(row)

    @every_case(
        "row",
        rows("awg.csv", "nec8-", quantity="resistance", unit="ohm/1000 ft", conditions="uncoated"),
    )
    def test_stranded_copper_at_75_c_matches_the_table(self, row):
        """
        The table prints stranded conductors, whose strands run 2 % longer than the cable.

        The 2 % is the allowance of ASTM B8 for concentric stranding (from memory). Our resistance
        leaves it out, so it is applied here; without it every row lies 1 to 3 % above ours, and
        the stated tolerance of 1 % fails. Rows of coated copper are left out: tin resists more.
        """
        strand_allowance = 1.02
        ours = wire_resistance(awg(row), 1000 * M_PER_FOOT, 75.0)
        assert ours * strand_allowance == approx_row(row)
        assert 1.01 <= float(row["value"]) / ours <= 1.03

    @every_case("row", rows("sae.csv", "sae-", quantity="nominal area", unit="mm2"))
    def test_sae_resistance_follows_from_its_published_area(self, row):
        ohm_per_m = resistance_20c_per_m(parse_wire_size(f"{row['size']} SAE"))
        assert COPPER_RESISTIVITY_20C_OHM_MM2_PER_M / ohm_per_m == approx_row(row)

    def test_the_table_of_vehicle_wire_has_no_length_of_strands_in_it(self):
        """Diesel engine service manual, 2007, p. 12-4: -6 to +5 % of ρ/A; 2 % more fit it worse."""
        off = []
        for name, row in table("sae.csv").items():
            if not name.startswith("engman-") or row["quantity"] != "resistance":
                continue
            label = name.removeprefix("engman-").replace("_", "/")
            ours = resistance_20c_per_m(parse_wire_size(f"{label} SAE")) * M_PER_FOOT
            off.append(float(row["value"]) / ours - 1)
        assert len(off) == 11
        assert -0.065 < min(off) <= max(off) < 0.055
        assert -0.03 < sum(off) / len(off) < 0


class TestResistanceOfMetricSizes:
    @every_case(
        "row",
        rows("class5.csv", "c5-", quantity="max resistance", unit="ohm/km", conditions="plain"),
    )
    def test_class_5_resistance_is_the_standards_maximum(self, row):
        size = parse_wire_size(f"{row['size']} mm²")
        assert resistance_20c_per_m(size) * 1000 == approx_row(row)

    @every_case(
        "row",
        [
            parameter
            for parameter in rows("sae.csv", "engman-", quantity="resistance", unit="ohm/ft")
            if parameter.values[0]["size"] not in {"0.8", "15", "100"}  # no standard sizes of ours
        ],
    )
    def test_real_cable_stays_below_our_maximum(self, row):
        """
        An engine maker's metric cables, an independent check of the rows that are from memory.

        No more than a bound: the manual does not state the temperature, and ours are maxima.
        """
        size = parse_wire_size(f"{row['size']} mm²")
        printed_ohm_per_m = float(row["value"]) / M_PER_FOOT
        assert printed_ohm_per_m < resistance_20c_per_m(size)

    def test_every_metric_size_has_a_resistance_somewhat_above_solid_copper(self):
        # Strands run longer than the cable and may be a little thin: 6 to 16 % in the whole table.
        for size in sizes_in(METRIC):
            solid = COPPER_RESISTIVITY_20C_OHM_MM2_PER_M / size.area_mm2
            assert 1.05 < resistance_20c_per_m(size) / solid < 1.16

    def test_size_that_is_not_tabulated_is_refused(self):
        size = WireSize(system=METRIC, designation="7", area_mm2=7.0)
        with pytest.raises(ValueError, match="no resistance is tabulated"):
            resistance_20c_per_m(size)


class TestTemperature:
    @every_case(
        "row",
        rows("class5.csv", "kt-", quantity="factor to convert measured R to 20 C", unit="ratio"),
    )
    def test_iec_factors_differ_by_the_rounded_coefficient_only(self, row):
        """
        IEC 60228 prints factors of 0.004 per °C, 250/(230 + t); the IACS coefficient is 0.00393.

        The table is the coarser side: its own coefficient meets all its factors, ours misses most
        of them by more than their 0.001. So they are no oracle; the two are 0.43 % apart at 100 °C.
        """
        temperature_c = float(row["size"])
        assert 250 / (230 + temperature_c) == approx_row(row)
        ratio = float(row["value"]) * resistance_at(1.0, temperature_c)
        assert 1 - 0.005 < ratio < 1 + 0.005

    def test_resistance_at_20_c_is_the_tabulated_one(self):
        assert resistance_at(0.01, 20.0) == 0.01

    def test_resistance_at_75_c_is_a_fifth_higher(self):
        # (234.5 + 75)/(234.5 + 20) = 309.5/254.5
        assert resistance_at(1.0, 75.0) == pytest.approx(1.2161, abs=0.00005)

    @given(resistances_ohm, temperatures_c, st.floats(min_value=0.01, max_value=100))
    def test_hotter_copper_resists_more(self, resistance_ohm, temperature_c, rise_c):
        cooler = resistance_at(resistance_ohm, temperature_c)
        assert resistance_at(resistance_ohm, temperature_c + rise_c) > cooler

    @every_case("resistance_ohm", [0, -1, math.nan, math.inf])
    def test_impossible_resistance_is_refused(self, resistance_ohm):
        with pytest.raises(ValueError, match="resistance_20c_ohm"):
            resistance_at(resistance_ohm, 20)

    @every_case("temperature_c", [-234.5, -300, math.nan, math.inf])
    def test_impossible_temperature_is_refused(self, temperature_c):
        with pytest.raises(ValueError, match="temperature_c"):
            resistance_at(1, temperature_c)


class TestWire:
    @given(all_sizes, st.floats(min_value=0.01, max_value=50), temperatures_c)
    def test_resistance_grows_in_proportion_to_length(self, size, length_m, temperature_c):
        once = wire_resistance(size, length_m, temperature_c)
        assert wire_resistance(size, 2 * length_m, temperature_c) == pytest.approx(2 * once)

    @given(systems, st.data(), temperatures_c)
    def test_larger_area_of_a_system_resists_less(self, system, data, temperature_c):
        thin, thick = sorted(
            data.draw(
                st.lists(st.sampled_from(sizes_in(system)), min_size=2, max_size=2, unique=True)
            )
        )
        thick_ohm = wire_resistance(thick, 1.0, temperature_c)
        assert thick_ohm < wire_resistance(thin, 1.0, temperature_c)

    @given(all_sizes, temperatures_c, st.floats(min_value=0.01, max_value=100))
    def test_hotter_wire_resists_more(self, size, temperature_c, rise_c):
        cooler = wire_resistance(size, 1.0, temperature_c)
        assert wire_resistance(size, 1.0, temperature_c + rise_c) > cooler

    @every_case("length_m", [0, -1, math.nan, math.inf])
    def test_impossible_length_is_refused(self, length_m):
        with pytest.raises(ValueError, match="length_m"):
            wire_resistance(parse_wire_size("12 AWG"), length_m, 20)
