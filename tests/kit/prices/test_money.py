"""Rounding, dividing and printing exact amounts."""

from decimal import ROUND_HALF_EVEN, ROUND_HALF_UP, Decimal
from fractions import Fraction
from itertools import pairwise

import pytest
from every_case import every_case
from hypothesis import given
from hypothesis import strategies as st

from upgrade_planner.kit.prices.money import Mode, rounded, spread

CENT = Decimal("0.01")
AMOUNTS = st.decimals(-100_000, 100_000, places=5)
WEIGHTS = st.builds(Fraction, st.integers(0, 10_000), st.integers(1, 1_000))
MODES = {Mode.HALF_UP: ROUND_HALF_UP, Mode.HALF_EVEN: ROUND_HALF_EVEN}


class TestRounding:
    @given(AMOUNTS, st.sampled_from(list(Mode)), st.integers(0, 4))
    def test_decimal_steps_round_as_the_standard_library_does(self, amount, mode, places):
        step = Decimal(1).scaleb(-places)
        assert rounded(amount, step, mode) == amount.quantize(step, MODES[mode])

    @given(AMOUNTS, st.sampled_from(["0.05", "0.25", "0.3", "1", "5"]), st.sampled_from(list(Mode)))
    def test_any_step_gives_a_multiple_at_most_half_a_step_away(self, amount, text, mode):
        step = Decimal(text)
        result = rounded(amount, step, mode)
        assert result % step == 0
        assert abs(result - amount) <= step / 2

    @every_case(
        ("amount", "up", "even"),
        [
            ("0.125", "0.13", "0.12"),
            ("0.135", "0.14", "0.14"),
            ("-0.125", "-0.13", "-0.12"),
        ],
    )
    def test_halves_go_by_setting(self, amount, up, even):
        assert rounded(Decimal(amount), CENT, "half up") == Decimal(up)
        assert rounded(Decimal(amount), CENT, "half even") == Decimal(even)

    def test_a_step_of_nothing_is_refused(self):
        with pytest.raises(ValueError, match="not above zero"):
            rounded(Decimal(1), Decimal(0))


class TestSpreading:
    @given(st.integers(0, 10_000), st.lists(WEIGHTS, min_size=1, max_size=30))
    def test_shares_add_up_and_none_is_a_step_off(self, steps, weights):
        if not any(weights):
            weights = [*weights, Fraction(1)]
        total = steps * CENT
        shares = spread(total, weights, CENT)
        assert sum(shares) == total
        whole = sum(weights)
        for share, weight in zip(shares, weights, strict=True):
            assert abs(Fraction(share) - Fraction(total) * weight / whole) < Fraction(CENT)
            assert share >= 0

    @given(st.integers(0, 100), st.lists(st.integers(1, 50), min_size=2, max_size=9))
    def test_more_weight_never_gets_less(self, steps, weights):
        shares = spread(steps * CENT, [Fraction(w) for w in weights], CENT)
        ordered = sorted(zip(weights, shares, strict=True))
        for (less, small), (more, large) in pairwise(ordered):
            assert small <= large or less == more

    @every_case("wrong", ["0.005", "-1"])
    def test_what_cannot_be_divided_is_refused(self, wrong):
        with pytest.raises(ValueError, match="steps"):
            spread(Decimal(wrong), [Fraction(1)], CENT)

    def test_nothing_to_divide_by_is_refused(self):
        with pytest.raises(ValueError, match="weights are zero"):
            spread(CENT, [], CENT)
