"""
How long a job takes, as a distribution: independent surprises, and one risk common to all work.

Each line has a low, a likely and a high value and is taken as a beta distribution between low and
high with mean (low + 4 likely + high) / 6. Source: common practice (three-point estimates as in
network planning); shape parameters 1 + 4 (likely - low) / (high - low) and
1 + 4 (high - likely) / (high - low), which give just that mean and the variance
(mean - low) (high - mean) / 7.

The total is T = F A + B: A is the sum of lines on the vehicle, B that of the others, F the factor
of the old vehicle, one for all lines of A. P(T <= x) is integrated numerically over F and over the
line with the largest variance; the rest of the sum is normal with a correction for its skewness
(first term of the Edgeworth series). So one line alone is exact, many lines are nearly so.
"""

import math
from collections.abc import Iterable, Sequence
from functools import cache, cached_property, lru_cache
from operator import mul
from typing import NamedTuple

from upgrade_planner.attributes import frozen

NODES = 48
"""Points of each integration. Source: our assumption; enough for six digits of the moments."""

NEGLIGIBLE = 0.1
"""A deviation that small, against that of the factor, is left out: it adds 1 % to the variance.
Source: our assumption; the integration over the factor could not follow so steep a step."""

_HALVINGS = 34
"""The total that covers a share is found to this many halvings of all that may be."""

Nodes = tuple[tuple[float, float], ...]
"""Values and their weights."""


@frozen
class ThreePoint:
    """
    An estimate: low, likely and high value, in any unit.

    Raises:
        ValueError: negative, not finite, or out of order.
    """

    low: float
    likely: float
    high: float

    def __attrs_post_init__(self) -> None:
        """Low comes first."""
        if not 0 <= self.low <= self.likely <= self.high < math.inf:
            raise ValueError(f"out of order: {self.low}, {self.likely}, {self.high}")

    @property
    def expected(self) -> float:
        """The mean."""
        return (self.low + 4 * self.likely + self.high) / 6

    @property
    def variance(self) -> float:
        """The mean square deviation, in the square of the unit."""
        return max(0.0, (self.expected - self.low) * (self.high - self.expected) / 7)

    @property
    def third_cumulant(self) -> float:
        """Mean cube of the deviation: positive if the long tail lies on the high side."""
        if self.high == self.low:
            return 0.0
        alpha, beta = self.shape
        skewness = 2 * (beta - alpha) * math.sqrt(7) / (8 * math.sqrt(alpha * beta))
        return float(skewness * self.variance**1.5)

    @property
    def shape(self) -> tuple[float, float]:
        """Both parameters of the beta distribution; their sum is 6."""
        width = self.high - self.low
        return 1 + 4 * (self.likely - self.low) / width, 1 + 4 * (self.high - self.likely) / width

    def times(self, factor: float) -> "ThreePoint":
        """The same, more of it."""
        return ThreePoint(self.low * factor, self.likely * factor, self.high * factor)

    def nodes(self, upper: float = math.inf) -> Nodes:
        """
        Values and their weights, for means over the distribution up to `upper`.

        Over all values the weights add up to 1. The place between low and high is
        (1 - cos t) / 2: the density over t is smooth at both ends.
        """
        width = self.high - self.low
        if width == 0:
            return ((self.low, 1.0),) if self.low <= upper else ()
        part = min(1.0, max(0.0, (upper - self.low) / width))
        return tuple((self.low + width * x, w) for x, w in _beta_nodes(*self.shape, part))

    def share_below(self, value: float) -> float:
        """Probability that the value is not exceeded."""
        return min(1.0, sum(weight for _, weight in self.nodes(value)))


def _beta_nodes(alpha: float, beta: float, part: float) -> list[tuple[float, float]]:
    log_whole = math.lgamma(alpha) + math.lgamma(beta) - math.lgamma(alpha + beta)
    end = math.acos(1 - 2 * part)
    nodes = []
    for place, weight in _gauss_legendre(NODES):
        half = end * place / 2
        low, high = math.sin(half) ** 2, math.cos(half) ** 2
        density = math.exp((alpha - 0.5) * math.log(low) + (beta - 0.5) * math.log(high))
        nodes.append((low, end * weight * density * math.exp(-log_whole)))
    return nodes if end else []


@cache
def _gauss_legendre(count: int) -> tuple[tuple[float, float], ...]:
    """Places and weights between 0 and 1: zeros of a Legendre polynomial by Newton's method."""
    found = []
    for index in range(count):
        x = math.cos(math.pi * (index + 0.75) / (count + 0.5))
        for _ in range(10):
            last, value = 1.0, x
            for degree in range(2, count + 1):
                last, value = value, ((2 * degree - 1) * x * value - (degree - 1) * last) / degree
            slope = count * (x * value - last) / (x * x - 1)
            x -= value / slope
        found.append(((1 + x) / 2, 1 / ((1 - x * x) * slope**2)))
    return tuple(found)


CERTAIN = ThreePoint(1.0, 1.0, 1.0)
"""Factor of a vehicle that holds no common risk."""


@frozen
class Line:
    """One independent estimate; `on_vehicle` if the factor of the old vehicle multiplies it."""

    estimate: ThreePoint
    on_vehicle: bool = True


@frozen
class JobEstimate:
    """
    All lines of a job and the factor that its vehicle puts on them.

    Attributes:
        factor: Low, likely and high factor of the old vehicle.
    """

    lines: tuple[Line, ...]
    factor: ThreePoint = CERTAIN

    @property
    def expected(self) -> float:
        """Expected total."""
        return math.fsum(
            line.estimate.expected * (self.factor.expected if line.on_vehicle else 1.0)
            for line in self.lines
        )

    def share_below(self, value: float) -> float:
        """Probability that the total does not exceed a value."""
        if self._is_factor_alone:
            (on, *_), (beside, *_) = self._cumulants
            return self.factor.share_below((value - beside) / on)
        return math.fsum(weight * self._share_of(rest, value) for weight, rest in self._at_factors)

    def covering(self, share: float) -> float:
        """
        The total that is enough in `share` of all such jobs (0 to 1, both excluded).

        Raises:
            ValueError: share is not between 0 and 1.
        """
        if not 0 < share < 1:
            raise ValueError(f"share {share} is not between 0 and 1")
        return _enough(self, share)

    def bound(self, name: str) -> float:
        """The total if every line and the factor have their "low" value, or their "high" one."""
        factor = getattr(self.factor, name)
        return math.fsum(
            getattr(line.estimate, name) * (factor if line.on_vehicle else 1.0)
            for line in self.lines
        )

    @cached_property
    def _largest(self) -> Line | None:
        return max(self.lines, key=lambda line: line.estimate.variance, default=None)

    @cached_property
    def _factors(self) -> Nodes:
        """Values of the factor and their weights."""
        return self.factor.nodes()

    @cached_property
    def _parts(self) -> Nodes:
        """Values of the largest line and their weights."""
        return self._largest.estimate.nodes() if self._largest is not None else ()

    @cached_property
    def _weights(self) -> Sequence[float]:
        """Those of the values of the largest line."""
        return [weight for _, weight in self._parts]

    @cached_property
    def _cumulants(self) -> tuple[Sequence[float], Sequence[float]]:
        """Three cumulants of the sums on the vehicle and beside it."""
        return _cumulants(self.lines, on_vehicle=True), _cumulants(self.lines, on_vehicle=False)

    @cached_property
    def _rest(self) -> tuple[Sequence[float], Sequence[float]]:
        """The same without the largest line."""
        rest = list(self.lines)
        if self._largest is not None:
            rest.remove(self._largest)
        return _cumulants(rest, on_vehicle=True), _cumulants(rest, on_vehicle=False)

    @cached_property
    def _is_factor_alone(self) -> bool:
        """True if the lines are so certain beside the factor that it alone decides."""
        (on, on_variance, _), (_, beside_variance, _) = self._cumulants
        own = on_variance * self.factor.expected**2 + beside_variance
        return own < NEGLIGIBLE**2 * on**2 * self.factor.variance

    @cached_property
    def _at_factors(self) -> tuple[tuple[float, "_Sum"], ...]:
        """The weight of each factor, and what else adds up to the total if it is known."""
        return tuple((weight, self._smaller(factor)) for factor, weight in self._factors)

    def _smaller(self, factor: float) -> "_Sum":
        """All lines but the largest."""
        on, beside = self._rest
        mean, variance, third = (
            a * factor**power + b for power, (a, b) in enumerate(zip(on, beside, strict=True), 1)
        )
        scaled = self._largest is None or self._largest.on_vehicle
        return _Sum(mean, variance, third, factor if scaled else 1.0)

    def _share_of(self, rest: "_Sum", value: float) -> float:
        """The probability that the total does not exceed a value, if the factor is known."""
        if self._largest is None:
            return 1.0 if value >= 0 else 0.0
        if rest.variance == 0:
            return self._largest.estimate.share_below((value - rest.mean) / rest.scale)
        deviation, skewness = math.sqrt(rest.variance), rest.third / rest.variance**1.5
        above, step = (value - rest.mean) / deviation, rest.scale / deviation
        ends = [above - step * part for part, _ in self._parts]
        return math.fsum(map(mul, _nearly_normal(ends, skewness), self._weights))


class _Sum(NamedTuple):
    """Three cumulants of the smaller lines, and what multiplies the largest one."""

    mean: float
    variance: float
    third: float
    scale: float


@lru_cache(maxsize=64)
def _enough(job: JobEstimate, share: float) -> float:
    """
    As `covering`; the choices of one quotation ask for the same work again.

    Between a total that is too low and one that is enough a parabola through three points says
    where to look, or the middle where it cannot. Source: inverse quadratic interpolation with
    halving: common practice.
    """
    last, other = _Side(job.bound("low"), -share), _Side(job.bound("high"), 1.0 - share)
    narrow, part = (other.total - last.total) / 2**_HALVINGS, 0.5
    for _ in range(3 * _HALVINGS):
        width = abs(other.total - last.total)
        if width <= narrow:
            break
        least = narrow / width / 2
        total = last.total + min(max(part, least), 1 - least) * (other.total - last.total)
        found = _Side(total, job.share_below(total) - share)
        before = last if found.is_enough == last.is_enough else other
        other = other if before is last else last
        last = found
        part = _part_of_way(last, other, before)
    return max(last.total, other.total)


class _Side(NamedTuple):
    """A total, and by how much its share is above the one that is sought."""

    total: float
    excess: float

    @property
    def is_enough(self) -> bool:
        return self.excess >= 0


def _part_of_way(last: _Side, other: _Side, before: _Side) -> float:
    """What part of the way from the last total to the other one a parabola is at zero."""
    far = (last.total - other.total) / (before.total - other.total)
    high = (last.excess - other.excess) / (before.excess - other.excess)
    if not (high**2 < far and (1 - high) ** 2 < 1 - far):
        return 0.5  # no parabola rises all the way
    a, b, c = last.excess, other.excess, before.excess
    reach = (before.total - last.total) / (other.total - last.total)
    return a / (b - a) * c / (b - c) + reach * a / (c - a) * b / (c - b)


def _cumulants(lines: Iterable[Line], *, on_vehicle: bool) -> Sequence[float]:
    own = [line.estimate for line in lines if line.on_vehicle is on_vehicle]
    found = [(one.expected, one.variance, one.third_cumulant) for one in own]
    return tuple(math.fsum(row[index] for row in found) for index in range(3))


_ROOT_OF_TWO, _ROOT_OF_TWO_PI = math.sqrt(2), math.sqrt(2 * math.pi)


def _nearly_normal(deviations: Iterable[float], skewness: float) -> list[float]:
    """Normal distribution with the first correction for skewness, kept between 0 and 1."""
    erf, exp, scale = math.erf, math.exp, skewness / 6 / _ROOT_OF_TWO_PI
    return [
        min(1.0, max(0.0, (1 + erf(z / _ROOT_OF_TWO)) / 2 - exp(z * z / -2) * scale * (z * z - 1)))
        for z in deviations
    ]
