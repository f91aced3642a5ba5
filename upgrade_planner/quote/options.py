"""Ways to do a job side by side: price, hours, what the owner gains, what is left."""

from collections.abc import Callable

from attrs import frozen

from upgrade_planner.checks.examined import Examined
from upgrade_planner.configuration.model import Configuration
from upgrade_planner.electrical.performance import Performance, performance


@frozen(kw_only=True)
class Gain:
    """A figure that driver or owner notices, before and after; None where there is no such part."""

    subject: str
    unit: str
    before: float | None
    after: float | None


Figure = Callable[[Performance], float | None]

_FIGURES: tuple[tuple[str, str, Figure], ...] = (
    ("ignition supply, running", "V", lambda p: p.ignition_run_v),
    ("ignition supply, cranking", "V", lambda p: p.ignition_cranking_v),
    ("stored energy at 1000 r/min", "J", lambda p: p.sparks[0].energy_j if p.sparks else None),
    ("battery voltage, loads on", "V", lambda p: p.loaded_battery_v),
    ("charging current, idling", "A", lambda p: p.idle_charge_a),
    ("charging current, loads on", "A", lambda p: p.loaded_charge_a),
    ("output to spare, loads on", "A", lambda p: p.spare_output_a),
    ("loss from output to battery, loads on", "V", lambda p: p.output_drop_v),
    ("hottest wire", "°C", lambda p: p.hottest_c),
    ("drain with the key off", "A", lambda p: p.standing_a),
)
"""Those of `electrical.performance` that an owner can weigh against money."""


def gains(before: Configuration, after: Configuration) -> tuple[Gain, ...]:
    """What the owner gets for the money: figures of both sides, where they differ."""
    old, new = _performance(before), _performance(after)
    if old is None or new is None:
        return ()
    found = (
        Gain(subject=subject, unit=unit, before=figure(old), after=figure(new))
        for subject, unit, figure in _FIGURES
    )
    return tuple(gain for gain in found if gain.before != gain.after)


def _performance(configuration: Configuration) -> Performance | None:
    points = Examined(configuration=configuration).points
    return performance(configuration, points) if points else None
