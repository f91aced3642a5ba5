"""Reading and printing of quantities with units."""

import math

import pytest
from every_case import every_case
from hypothesis import example, given
from hypothesis import strategies as st

from upgrade_planner.configuration.values.quantities import (
    NO_BREAK_SPACE,
    Dimension,
    QuantityError,
    format_length,
    format_quantity,
    parse_quantity,
)

# A value as people would state it in any dimension: well inside the printable range.
ordinary_values = st.floats(min_value=1e-6, max_value=1e6)
dimensions = st.sampled_from(Dimension)


class TestParsing:
    @every_case(
        ("text", "dimension", "expected"),
        [
            ("1.8 m", Dimension.LENGTH, 1.8),
            ("45 mm", Dimension.LENGTH, 0.045),
            ("12 cm", Dimension.LENGTH, 0.12),
            ("6 ft", Dimension.LENGTH, 1.8288),
            ("10 in", Dimension.LENGTH, 0.254),
            ("14.2 V", Dimension.VOLTAGE, 14.2),
            ("100 mV", Dimension.VOLTAGE, 0.1),
            ("20 kV", Dimension.VOLTAGE, 20000),
            ("63 A", Dimension.CURRENT, 63),
            ("20 mA", Dimension.CURRENT, 0.02),
            ("1.35 ohm", Dimension.RESISTANCE, 1.35),
            ("1.35 \N{OHM SIGN}", Dimension.RESISTANCE, 1.35),
            ("1.35 \N{GREEK CAPITAL LETTER OMEGA}", Dimension.RESISTANCE, 1.35),
            ("5 mohm", Dimension.RESISTANCE, 0.005),
            ("5 m\N{OHM SIGN}", Dimension.RESISTANCE, 0.005),
            ("8 kohm", Dimension.RESISTANCE, 8000),
            ("8 kΩ", Dimension.RESISTANCE, 8000),
            ("55 W", Dimension.POWER, 55),
            ("1.2 kW", Dimension.POWER, 1200),
            ("8 mH", Dimension.INDUCTANCE, 0.008),
            ("8 H", Dimension.INDUCTANCE, 8),
            ("8 \N{MICRO SIGN}H", Dimension.INDUCTANCE, 8e-6),
            ("8 \N{GREEK SMALL LETTER MU}H", Dimension.INDUCTANCE, 8e-6),
            ("8 uH", Dimension.INDUCTANCE, 8e-6),
            ("1 F", Dimension.CAPACITANCE, 1),
            ("0.22 \N{MICRO SIGN}F", Dimension.CAPACITANCE, 0.22e-6),
            ("0.22 \N{GREEK SMALL LETTER MU}F", Dimension.CAPACITANCE, 0.22e-6),
            ("0.22 uF", Dimension.CAPACITANCE, 0.22e-6),
            ("220 nF", Dimension.CAPACITANCE, 0.22e-6),
            ("60 Ah", Dimension.CHARGE, 60),
            ("60 °C", Dimension.TEMPERATURE, 60),
            ("60 C", Dimension.TEMPERATURE, 60),
            ("140 °F", Dimension.TEMPERATURE, 60),
            ("-40 F", Dimension.TEMPERATURE, -40),
            ("750 r/min", Dimension.SPEED, 750),
            ("750 rpm", Dimension.SPEED, 750),
            ("8 N·m", Dimension.TORQUE, 8),
            ("8 N\N{DOT OPERATOR}m", Dimension.TORQUE, 8),
            ("8 Nm", Dimension.TORQUE, 8),
            ("5.5 kg", Dimension.MASS, 5.5),
            ("40 g", Dimension.MASS, 0.04),
            ("1 lb", Dimension.MASS, 0.45359237),
            ("30 s", Dimension.TIME, 30),
            ("4 ms", Dimension.TIME, 0.004),
            ("2 min", Dimension.TIME, 120),
            ("35 %", Dimension.RATIO, 0.35),
            ("40 mJ", Dimension.ENERGY, 0.04),
            ("1 J", Dimension.ENERGY, 1),
        ],
    )
    def test_every_unit_gives_its_value(self, text, dimension, expected):
        assert parse_quantity(text, dimension) == expected

    @every_case("text", ["10 lbf·ft", "10 lbf ft", "10 lbf\N{NO-BREAK SPACE}ft"])
    def test_pound_force_feet_are_newton_metres(self, text):
        # NIST SP 811 (2008), appendix B.8: 1 lbf·ft = 1.355818 N·m (from memory)
        assert parse_quantity(text, Dimension.TORQUE) == pytest.approx(13.55818, abs=0.000005)

    @every_case(
        "text",
        [
            "5 ft 6 in",
            "5ft 6in",
            "5ft6in",
            " 5\N{NO-BREAK SPACE}ft\N{NO-BREAK SPACE}6  in ",
            "66 in",
        ],
    )
    def test_feet_and_inches_add_up(self, text):
        assert parse_quantity(text, Dimension.LENGTH) == 1.6764

    @every_case(
        "text",
        [
            "63A",
            "63 A",
            "63\N{NO-BREAK SPACE}A",
            "63\N{NARROW NO-BREAK SPACE}A",
            "\t63 A\n",
            "+63 A",
        ],
    )
    def test_spaces_are_free(self, text):
        assert parse_quantity(text, Dimension.CURRENT) == 63

    def test_units_of_input_do_not_change_the_value(self):
        assert parse_quantity("0.29 m", Dimension.LENGTH) == parse_quantity(
            "290 mm", Dimension.LENGTH
        )
        assert parse_quantity("57 %", Dimension.RATIO) == 0.57

    @every_case("text", ["0 A", "0.0 A", "-0 A"])
    def test_zero_is_allowed(self, text):
        assert parse_quantity(text, Dimension.CURRENT) == 0

    def test_below_zero_is_read_where_it_makes_sense(self):
        assert parse_quantity("-10 A", Dimension.CURRENT, allow_negative=True) == -10
        assert parse_quantity("\N{MINUS SIGN}10 A", Dimension.CURRENT, allow_negative=True) == -10
        assert parse_quantity("-1 ft 6 in", Dimension.LENGTH, allow_negative=True) == -0.4572
        assert parse_quantity("-10 °C", Dimension.TEMPERATURE) == -10


class TestFaults:
    @every_case(
        ("text", "dimension", "found", "expected"),
        [
            ("2,5 m", Dimension.LENGTH, '"2,5 m" with a comma', "write 2.5 m"),
            ("1,200 m", Dimension.LENGTH, "with a comma", "write 1.200 m or 1200 m"),
            ("18", Dimension.CURRENT, '"18" without a unit', "(A or mA), e.g. 18 A"),
            ("6", Dimension.VOLTAGE, '"6" without a unit', "(V, mV or kV), e.g. 6 V"),
            ("4", Dimension.RESISTANCE, '"4" without a unit', ", e.g. 4 ohm or 4 mohm"),
            ("0.35", Dimension.RATIO, "without a unit", "(%), e.g. 35 %"),
            ("63 V", Dimension.CURRENT, '"63 V", which is a voltage', "a current, e.g. 63 A"),
            ("20 F", Dimension.CURRENT, "a capacitance or a temperature", "e.g. 20 A"),
            ("63 amps", Dimension.CURRENT, "an unknown unit", "a current with its unit (A or mA)"),
            ("-5 V", Dimension.VOLTAGE, '"-5 V"', "a voltage of zero or more"),
            ("-1 ft 6 in", Dimension.LENGTH, '"-1 ft 6 in"', "a length of zero or more"),
            ("-300 °C", Dimension.TEMPERATURE, '"-300 °C"', "-273.15 °C or above"),
            ("5 ft 14 in", Dimension.LENGTH, '"5 ft 14 in"', "inches below 12"),
            ("5.5 ft 6 in", Dimension.LENGTH, "an unknown unit", "a length with its unit"),
            ("nan V", Dimension.VOLTAGE, '"nan V"', "a voltage with its unit"),
            ("inf V", Dimension.VOLTAGE, '"inf V"', "a voltage with its unit"),
            ("1e999 V", Dimension.VOLTAGE, "beyond all bounds", "a voltage with its unit"),
            ("1e99999999 V", Dimension.VOLTAGE, "beyond all bounds", "a voltage with its unit"),
            ("1e308 kV", Dimension.VOLTAGE, "beyond all bounds", "a voltage with its unit"),
            ("", Dimension.LENGTH, '""', "a length with its unit"),
            ("m", Dimension.LENGTH, '"m"', "a length with its unit"),
            ("1.2.3 V", Dimension.VOLTAGE, '"1.2.3 V"', "a voltage with its unit"),
            ("12 V 3 A", Dimension.VOLTAGE, "an unknown unit", "a voltage with its unit"),
            ("1_000 V", Dimension.VOLTAGE, "an unknown unit", "a voltage with its unit"),
            ("\N{ARABIC-INDIC DIGIT THREE} V", Dimension.VOLTAGE, "V", "a voltage with its unit"),
            ("9" * 500 + " V", Dimension.VOLTAGE, "9…", "a voltage with its unit"),
        ],
    )
    def test_message_says_what_was_found_and_what_would_be_right(
        self, text, dimension, found, expected
    ):
        with pytest.raises(QuantityError) as caught:
            parse_quantity(text, dimension)
        assert found in caught.value.found
        assert expected in caught.value.expected
        assert str(caught.value).startswith(f"found {caught.value.found}; expected ")

    @every_case(
        ("text", "dimension", "nearest"),
        [
            ("1.35 Ohm", Dimension.RESISTANCE, ("1.35 ohm",)),
            ("12 v", Dimension.VOLTAGE, ("12 V",)),
            ("3 mm²", Dimension.LENGTH, ("3 mm",)),
            ("800 rmp", Dimension.SPEED, ("800 rpm",)),
            ("63 xyz", Dimension.CURRENT, ()),
        ],
    )
    def test_unknown_unit_suggests_the_nearest(self, text, dimension, nearest):
        with pytest.raises(QuantityError) as caught:
            parse_quantity(text, dimension)
        assert caught.value.nearest == nearest

    @pytest.mark.parametrize(
        ("value", "found"),
        [
            (63, "the bare number 63"),
            (2.5, "the bare number 2.5"),
            (math.nan, "the bare number nan"),
            pytest.param(10**5000, "a huge bare number", id="huge"),
            (True, "true"),
            (None, "nothing"),
            (["63 A"], "a list"),
            ({"value": 63}, "a dict"),
        ],
    )
    def test_value_that_is_no_text_is_refused(self, value, found):
        with pytest.raises(QuantityError) as caught:
            parse_quantity(value, Dimension.CURRENT)
        assert caught.value.found == found
        assert caught.value.expected == 'a current as text in quotes, e.g. "63 A"'

    @given(st.text(max_size=80), dimensions)
    @example("1e", Dimension.VOLTAGE)
    @example("\x00 V", Dimension.VOLTAGE)
    def test_any_text_gives_a_finite_value_or_a_quantity_error(self, text, dimension):
        try:
            value = parse_quantity(text, dimension, allow_negative=True)
        except QuantityError:
            return
        assert math.isfinite(value)


class TestPrinting:
    @every_case(
        ("value", "dimension", "text"),
        [
            (63, Dimension.CURRENT, "63 A"),
            (0.0457, Dimension.VOLTAGE, "45.7 mV"),
            (0.9996, Dimension.VOLTAGE, "1 V"),
            (14.25, Dimension.VOLTAGE, "14.3 V"),
            (20000, Dimension.VOLTAGE, "20 kV"),
            (1.35, Dimension.RESISTANCE, "1.35 Ω"),
            (0.00521, Dimension.RESISTANCE, "5.21 mΩ"),
            (0.22e-6, Dimension.CAPACITANCE, "220 nF"),
            (-17.78, Dimension.TEMPERATURE, "\N{MINUS SIGN}17.8 °C"),
            (0.35, Dimension.RATIO, "35 %"),
            (0.45, Dimension.LENGTH, "450 mm"),
            (0, Dimension.POWER, "0 W"),
            (-0.0, Dimension.CURRENT, "0 A"),
            (-1e-17, Dimension.CURRENT, "0 A"),
            (1234567, Dimension.SPEED, "1230000 r/min"),
        ],
    )
    def test_number_and_unit_are_handy(self, value, dimension, text):
        assert format_quantity(value, dimension) == text.replace(" ", NO_BREAK_SPACE)

    def test_stated_unit_is_used(self):
        printed = format_quantity(60, Dimension.TEMPERATURE, "°F")
        assert printed == f"140{NO_BREAK_SPACE}°F"
        assert format_quantity(0.5, Dimension.VOLTAGE, "V", digits=2) == f"0.5{NO_BREAK_SPACE}V"

    @every_case("value", [math.nan, math.inf, -math.inf])
    def test_value_that_is_not_finite_is_refused(self, value):
        with pytest.raises(ValueError, match="finite"):
            format_quantity(value, Dimension.VOLTAGE)

    def test_unit_of_another_dimension_is_refused(self):
        with pytest.raises(ValueError, match="A is not a unit of voltage"):
            format_quantity(1, Dimension.VOLTAGE, "A")

    @given(ordinary_values, dimensions)
    def test_what_is_printed_reads_back_within_its_rounding(self, value, dimension):
        # Three digits: half a unit of the third is at most 0.5 % of the value.
        printed = format_quantity(value, dimension)
        assert parse_quantity(printed, dimension) == pytest.approx(value, rel=0.0050001)

    @given(ordinary_values | ordinary_values.map(lambda value: -value), dimensions)
    def test_all_digits_read_back_exactly(self, value, dimension):
        value = max(value, -273) if dimension is Dimension.TEMPERATURE else value
        printed = format_quantity(value, dimension, digits=17)
        assert parse_quantity(printed, dimension, allow_negative=True) == value


class TestLengths:
    @every_case(
        ("length_m", "text"),
        [
            (1.35, "1.35 m (4 ft 5 in)"),
            (1.346, "1.35 m (4 ft 5 in)"),
            (1.352, "1.36 m (4 ft 6 in)"),
            (0.1 + 0.2, "0.30 m (1 ft)"),
            (0.1, "0.10 m (4 in)"),
            (0.001, "0.01 m (1 in)"),
            (0, "0.00 m (0 in)"),
        ],
    )
    def test_lengths_are_printed_in_both_systems(self, length_m, text):
        printed = format_length(length_m, "both")
        assert printed.replace(NO_BREAK_SPACE, " ") == text

    def test_one_system_is_printed_alone(self):
        assert format_length(1.4) == f"1.40{NO_BREAK_SPACE}m"
        assert format_length(1.4, "us").replace(NO_BREAK_SPACE, " ") == "4 ft 7 in"

    @given(st.floats(min_value=0, max_value=100))
    def test_metric_length_is_generous_by_less_than_one_step(self, length_m):
        printed_m = parse_quantity(format_length(length_m, "metric"), Dimension.LENGTH)
        assert -1e-6 <= printed_m - length_m <= 0.010001

    @given(st.floats(min_value=0, max_value=100))
    def test_us_length_is_never_more_than_5_mm_short(self, length_m):
        printed_m = parse_quantity(format_length(length_m, "us"), Dimension.LENGTH)
        assert -0.005001 <= printed_m - length_m <= 0.0254

    @every_case("length_m", [-0.1, math.nan, math.inf])
    def test_impossible_length_is_refused(self, length_m):
        with pytest.raises(ValueError, match="zero or more"):
            format_length(length_m)

    def test_unknown_system_is_refused(self):
        with pytest.raises(ValueError, match="metric, us or both"):
            format_length(1, "imperial")
