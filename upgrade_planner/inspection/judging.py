"""What a measured value says about a wire or part, against what the computation expects."""

from math import isinf

from attrs import evolve

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.model import Conductor, Configuration, Wire
from upgrade_planner.configuration.values.quantities import Dimension
from upgrade_planner.inspection.form_lines import FormLine, MeterReading
from upgrade_planner.inspection.measuring import Measurement, expected_wire_resistance

UNIT = {Dimension.RESISTANCE: "ohm", Dimension.VOLTAGE: "V"}


@frozen(kw_only=True)
class MeasuredFinding:
    """
    A measured value outside its range.

    Attributes:
        subject: The wire, part or reading.
        measured: As written.
        expected: The range, in words.
        means: What it would mean.
    """

    subject: str
    measured: str
    expected: str
    means: str

    def __str__(self) -> str:
        """One sentence."""
        return (
            f"{self.subject}: measured {self.measured}, expected {self.expected}. "
            f"It would mean: {self.means}."
        )


def range_text(expected: Measurement) -> str:
    """
    The range in words that any keyboard has; the form prints the same figures.

    Rounded when it was computed, so that what is printed is what is judged by.
    """
    unit = UNIT[expected.dimension]
    if expected.low <= 0:
        return f"at most {expected.high:g} {unit}"
    return f"{expected.low:g} to {expected.high:g} {unit}"


def judged(subject: str, reading: MeterReading, expected: Measurement) -> MeasuredFinding | None:
    """What is odd about a reading; None if it lies in its range."""
    if expected.low <= reading.value <= expected.high:
        return None
    if isinf(reading.value) and expected.kind == "wire":
        means = "a break, or an end that touches nothing"
    else:
        means = expected.if_low if reading.value < expected.low else expected.if_high
    return MeasuredFinding(
        subject=subject, measured=reading.text, expected=range_text(expected), means=means
    )


def wire_as_answered(wire: Wire, answer: FormLine) -> Wire:
    """The wire with the size and conductor that were found."""
    conductor = answer.conductor or wire.conductor
    return evolve(wire, size=answer.size or wire.given_size, conductor=conductor)


def expected_for_wire(
    wire: Wire, answer: FormLine, configuration: Configuration, shown: Measurement | None
) -> Measurement | None:
    """
    What the reading of a wire should be; None if a voltage is not computed for it.

    Ohms are computed for the wire as found; a resistance wire of unknown ohms has none.
    """
    reading = answer.measured
    if reading is None:
        return None
    if reading.dimension is Dimension.VOLTAGE:
        return shown if shown and shown.dimension is Dimension.VOLTAGE else None
    found = wire_as_answered(wire, answer)
    if found.conductor is Conductor.RESISTANCE and wire.resistance_ohm is None:
        return None
    return expected_wire_resistance(found, configuration, answer.length_m)
