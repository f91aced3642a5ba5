"""What an owner gets for the money: figures of the vehicle before and after."""

from collections.abc import Callable, Mapping
from enum import StrEnum

from upgrade_planner.attributes import frozen
from upgrade_planner.checks.examined import Examined
from upgrade_planner.configuration.model import Configuration
from upgrade_planner.configuration.values.quantities import Dimension
from upgrade_planner.electrical.performance import Performance, performance


class Verdict(StrEnum):
    """What a change of a figure is for the owner."""

    BETTER = "better"
    WORSE = "worse"
    NEITHER = ""


@frozen
class Weighed:
    """
    A figure of `electrical.performance` that an owner can weigh against money.

    Attributes:
        least: The least change worth telling a customer. Source: our assumption.
        better: 1 if more is better, -1 if less is, 0 if neither.
    """

    dimension: Dimension
    value: Callable[[Performance], float | None]
    least: float
    better: int


FIGURES: Mapping[str, Weighed] = {
    "ignition supply, running": Weighed(Dimension.VOLTAGE, lambda p: p.ignition_run_v, 0.3, 0),
    "ignition supply, cranking": Weighed(
        Dimension.VOLTAGE, lambda p: p.ignition_cranking_v, 0.3, 1
    ),
    "stored energy at 1000 r/min": Weighed(
        Dimension.ENERGY, lambda p: p.sparks[0].energy_j if p.sparks else None, 0.003, 1
    ),
    "battery voltage, loads on": Weighed(Dimension.VOLTAGE, lambda p: p.loaded_battery_v, 0.2, 0),
    "charging current, idling": Weighed(Dimension.CURRENT, lambda p: p.idle_charge_a, 0.5, 1),
    "charging current, loads on": Weighed(Dimension.CURRENT, lambda p: p.loaded_charge_a, 0.5, 0),
    "output to spare, loads on": Weighed(Dimension.CURRENT, lambda p: p.spare_output_a, 1.0, 1),
    "loss from output to battery, loads on": Weighed(
        Dimension.VOLTAGE, lambda p: p.output_drop_v, 0.05, -1
    ),
    "hottest wire": Weighed(Dimension.TEMPERATURE, lambda p: p.hottest_c, 3.0, -1),
    "drain with the key off": Weighed(Dimension.CURRENT, lambda p: p.standing_a, 0.005, -1),
}
"""By subject of a `Gain`."""


@frozen(kw_only=True)
class Gain:
    """A figure that driver or owner notices, before and after; None where there is no such part."""

    subject: str
    before: float | None
    after: float | None

    @property
    def is_worth_telling(self) -> bool:
        """Whether both sides have the figure and it changes enough."""
        if self.before is None or self.after is None:
            return False
        return abs(self.after - self.before) >= FIGURES[self.subject].least

    @property
    def verdict(self) -> Verdict:
        """Better or worse for the owner."""
        rise = FIGURES[self.subject].better * ((self.after or 0.0) - (self.before or 0.0))
        return Verdict.BETTER if rise > 0 else Verdict.WORSE if rise < 0 else Verdict.NEITHER


def gains(before: Configuration, after: Configuration) -> tuple[Gain, ...]:
    """Figures of both sides, where they differ; () if one side could not be computed."""
    old, new = _performance(before), _performance(after)
    if old is None or new is None:
        return ()
    found = (
        Gain(subject=subject, before=figure.value(old), after=figure.value(new))
        for subject, figure in FIGURES.items()
    )
    return tuple(gain for gain in found if gain.before != gain.after)


def _performance(configuration: Configuration) -> Performance | None:
    points = Examined(configuration=configuration).points
    return performance(configuration, points) if points else None
