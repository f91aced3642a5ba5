"""Totals that cover a share of all cases, against a simulation with a fixed seed."""

import math
import random
from array import array
from bisect import bisect_left
from functools import cache
from itertools import accumulate

import pytest
from every_case import every_case
from hypothesis import given, settings
from hypothesis import strategies as st
from pair_facts import planned

from upgrade_planner.kit.labour_table import AgeAndFinds, shipped_labour_table
from upgrade_planner.quote.estimate import CERTAIN, JobEstimate, Line, ThreePoint
from upgrade_planner.quote.lines import job_estimate, work_lines

DRAWS = 20_000
STANDARD_ERRORS = 4
"""A right result lies outside four standard errors once in 16 000 cases."""

LIKELY, STEPS = 4_096, 20_000
PLACES = 2**16
"""Places in a deck of the likely values, each as often: two random bytes draw one of them."""

OLD = ThreePoint(1.0, 1.05, 1.4)

SIX_DIGITS = 1e-6
"""What `estimate.NODES` promises: 48 points, fourth order at the ends of the distribution."""


def times(least=0.0, most=100.0):
    return st.lists(st.floats(least, most), min_size=3, max_size=3).map(
        lambda three: ThreePoint(*sorted(three))
    )


def jobs():
    line = st.builds(Line, times(), st.booleans())
    return st.builds(
        JobEstimate, st.lists(line, min_size=1, max_size=6).map(tuple), times(0.5, 3.0)
    )


@cache
def equally_likely(alpha, beta):
    """
    As many values of a beta distribution as are equally likely, from its density.

    To draw one of them is as good as to draw from the distribution: what lies between two
    neighbours is a 4,096th part of all, where 20,000 draws tell no more than a 140th.
    """
    places = [(k + 0.5) / STEPS for k in range(STEPS)]
    density = [x ** (alpha - 1) * (1 - x) ** (beta - 1) for x in places]
    below, whole = list(accumulate(density)), math.fsum(density)
    return [places[bisect_left(below, whole * (k + 0.5) / LIKELY)] for k in range(LIKELY)]


def drawn(three, chance):
    """Draws from one estimate, independent of each other."""
    low, width = three.low, three.high - three.low
    if not width:
        return [low] * DRAWS
    alpha = 1 + 4 * (three.likely - low) / width
    deck = [low + width * x for x in equally_likely(alpha, 6 - alpha)] * (PLACES // LIKELY)
    return list(map(deck.__getitem__, array("H", chance.randbytes(2 * DRAWS))))


def totals(job, seed=20):
    chance = random.Random(seed)
    factors = drawn(job.factor, chance)
    lines = [(drawn(line.estimate, chance), line.on_vehicle) for line in job.lines]
    on, beside = ([d for d, is_on in lines if is_on is which] for which in (True, False))
    sums = [list(map(sum, zip(*some, strict=True))) or [0.0] * DRAWS for some in (on, beside)]
    return [factor * a + b for factor, a, b in zip(factors, *sums, strict=True)]


def assert_simulation_agrees(job, shares=(0.5, 0.8, 0.95)):
    found = totals(job)
    mean = math.fsum(found) / DRAWS
    deviation = math.sqrt(math.fsum((x - mean) ** 2 for x in found) / (DRAWS - 1))
    assert abs(job.expected - mean) <= STANDARD_ERRORS * deviation / math.sqrt(DRAWS)
    for share in shares:
        enough = job.covering(share)
        covered = sum(total <= enough for total in found) / DRAWS
        error = math.sqrt(share * (1 - share) / DRAWS)
        assert abs(covered - share) <= STANDARD_ERRORS * error, share


def lines(*threes, on_vehicle=True):
    return tuple(Line(ThreePoint(*three), on_vehicle=on_vehicle) for three in threes)


class TestAgainstSimulation:
    @pytest.mark.parametrize(
        ("before", "after"),
        [
            ("van_as_found", "van_upgraded"),
            ("tractor_original", "tractor_upgraded"),
            ("six_volt_tractor_original", "six_volt_tractor_twelve_electronic"),
        ],
    )
    def test_plans(self, before, after):

        plan = planned(before, after)
        table = shipped_labour_table()
        assert_simulation_agrees(job_estimate(work_lines([plan], table), table))

    @pytest.mark.parametrize(
        "job",
        [
            pytest.param(JobEstimate(lines((0, 0, 10))), id="one line, all risk above"),
            pytest.param(JobEstimate(lines((0, 10, 10))), id="one line, all risk below"),
            pytest.param(JobEstimate(lines((5, 5, 5)), OLD), id="nothing but the factor"),
            pytest.param(JobEstimate(lines((5, 5, 5.2), (5, 5, 5.2)), OLD), id="hardly more"),
            pytest.param(JobEstimate(lines((0, 0, 10), (0, 0, 9)), OLD), id="two crooked lines"),
            pytest.param(
                JobEstimate(lines((0, 0, 50), *[(1, 1, 2)] * 30), OLD), id="one of thirty"
            ),
            pytest.param(
                JobEstimate(lines(*[(1, 2, 6)] * 40), ThreePoint(1, 1, 3)), id="wide factor"
            ),
            pytest.param(JobEstimate(lines(*[(1, 2, 6)] * 40)), id="no factor"),
            pytest.param(
                JobEstimate(lines(*[(1, 2, 6)] * 9) + lines((20, 30, 90), on_vehicle=False), OLD),
                id="largest beside the vehicle",
            ),
        ],
    )
    def test_extremes(self, job):
        assert_simulation_agrees(job)

    @every_case("pair", [("van_upgraded", "van_isolator"), ("van_as_found", "van_upgraded")])
    def test_what_covers_most_cases_is_held_against_the_spread_of_its_parts(self, pair):
        """Lines of one vehicle are not independent: same rust, same hands."""
        table = shipped_labour_table()
        job = job_estimate(work_lines([planned(*pair)], table), table)
        assert job.covering(0.8) - job.expected >= 0.04 * (job.bound("high") - job.expected)
        assert job.covering(0.8) >= 1.06 * job.expected

    def test_age_and_finds_make_the_sum_that_is_enough_larger(self):
        table = shipped_labour_table()
        lines = work_lines([planned("van_upgraded", "van_isolator")], table)
        old = AgeAndFinds(finds=3, age_years=60)
        new, worn = (job_estimate(lines, table, vehicle=one) for one in (AgeAndFinds(), old))
        assert worn.covering(0.8) > new.covering(0.8)
        assert worn.covering(0.8) - worn.expected > new.covering(0.8) - new.expected

    def test_what_is_common_does_not_average_out(self):
        many = lines(*[(1, 2, 6)] * 100)
        alone, common = JobEstimate(many), JobEstimate(many, OLD)
        assert common.covering(0.8) / common.expected > alone.covering(0.8) / alone.expected + 0.02


class TestProperties:
    @given(times())
    def test_moments_are_those_of_the_integration(self, three):
        nodes, width = three.nodes(), three.high - three.low
        assert sum(w for _, w in nodes) == pytest.approx(1, abs=SIX_DIGITS)
        mean, variance, third = three.expected, three.variance, three.third_cumulant
        for power, wanted in ((1, 0.0), (2, variance), (3, third)):
            found = sum(w * (x - mean) ** power for x, w in nodes)
            assert found == pytest.approx(wanted, abs=SIX_DIGITS * width**power + 1e-12)

    @given(jobs())
    @settings(max_examples=30)
    def test_eighty_percent_lie_between_expected_and_worst(self, job):
        enough = job.covering(0.8)
        worst = sum(l.estimate.high * (job.factor.high if l.on_vehicle else 1) for l in job.lines)  # noqa: E741
        assert job.expected <= enough + 1e-6
        assert enough <= worst + 1e-6

    @given(jobs())
    @settings(max_examples=10)
    def test_more_certainty_takes_no_less_time(self, job):
        found = [job.covering(share) for share in (0.3, 0.8, 0.95)]
        assert found == sorted(found)

    @given(jobs(), times())
    @settings(max_examples=20)
    def test_one_more_line_never_saves_time(self, job, three):
        longer = JobEstimate((*job.lines, Line(three)), job.factor)
        assert longer.expected >= job.expected
        assert longer.covering(0.8) >= job.covering(0.8) * (1 - 0.005)

    def test_nothing_takes_nothing(self):
        assert JobEstimate((), CERTAIN).covering(0.8) == 0
        assert JobEstimate((), CERTAIN).expected == 0

    @every_case("share", [0, 1, -0.1])
    def test_a_share_that_cannot_be_covered_is_refused(self, share):
        with pytest.raises(ValueError, match="not between"):
            JobEstimate(()).covering(share)

    @every_case("three", [(2, 1, 3), (-1, 0, 1), (0, 1, math.inf)])
    def test_estimates_out_of_order_are_refused(self, three):
        with pytest.raises(ValueError, match="out of order"):
            ThreePoint(*three)
