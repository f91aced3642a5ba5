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
        return math.fsum(weight * self._share_at(factor, value) for factor, weight in self._factors)

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

    def _share_at(self, factor: float, value: float) -> float:
        """The probability if the factor is known."""
        on, beside = self._rest
        mean, variance, third = (
            a * factor**power + b for power, (a, b) in enumerate(zip(on, beside, strict=True), 1)
        )
        largest = self._largest
        if largest is None:
            return 1.0 if value >= 0 else 0.0
        scale = factor if largest.on_vehicle else 1.0
        if variance == 0:
            return largest.estimate.share_below((value - mean) / scale)
        deviation, skewness = math.sqrt(variance), third / variance**1.5
        return math.fsum(
            weight * _nearly_normal((value - mean - scale * part) / deviation, skewness)
            for part, weight in self._parts
        )


@lru_cache(maxsize=64)
def _enough(job: JobEstimate, share: float) -> float:
    """
    As `covering`; the choices of one quotation ask for the same work again.

    Source: regula falsi with halved ends ("Illinois"): common practice.
    """
    low, high = _Side(job.bound("low"), -share), _Side(job.bound("high"), 1.0 - share)
    narrow = (high.total - low.total) / 2**_HALVINGS
    for count in range(3 * _HALVINGS):
        if high.total - low.total <= narrow:
            break
        wanted = _between(low, high, count)
        total = min(max(wanted, low.total + narrow / 2), high.total - narrow / 2)
        found = _Side(total, job.share_below(total) - share)
        low, high = (found, high.staying()) if found.excess < 0 else (low.staying(), found)
    return high.total


class _Side(NamedTuple):
    """A total, and by how much its share is above the one that is sought."""

    total: float
    excess: float
    has_stayed: bool = False

    def staying(self) -> "_Side":
        """The same; halved if it stays again, so that a line does not stop short of it for ever."""
        return _Side(self.total, self.excess / 2 if self.has_stayed else self.excess, True)


def _between(low: _Side, high: _Side, count: int) -> float:
    """Where a line between both sides is at zero; the middle at each third try, to be sure."""
    if count % 3 == 2:
        return (low.total + high.total) / 2
    return (low.total * high.excess - high.total * low.excess) / (high.excess - low.excess)


def _cumulants(lines: Iterable[Line], *, on_vehicle: bool) -> Sequence[float]:
    own = [line.estimate for line in lines if line.on_vehicle is on_vehicle]
    found = [(one.expected, one.variance, one.third_cumulant) for one in own]
    return tuple(math.fsum(row[index] for row in found) for index in range(3))


_ROOT_OF_TWO, _ROOT_OF_TWO_PI = math.sqrt(2), math.sqrt(2 * math.pi)


def _nearly_normal(deviations: float, skewness: float) -> float:
    """Normal distribution with the first correction for skewness, kept between 0 and 1."""
    square = deviations * deviations
    normal = (1 + math.erf(deviations / _ROOT_OF_TWO)) / 2
    density = math.exp(-square / 2) / _ROOT_OF_TWO_PI
    return min(1.0, max(0.0, normal - density * skewness * (square - 1) / 6))
