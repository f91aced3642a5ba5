"""The rings at both ends of a wire, by the stud or screw that each is made for."""

from upgrade_planner.attributes import frozen

MM_PER_IN = 25.4

_NUMBERED_MM = {"No. 6": 3.51, "No. 8": 4.17, "No. 10": 4.83}
"""Outside diameters of numbered screws. [mm] Source: unified threads, ASME B1.1: 0.138, 0.164 and
0.190 in."""


@frozen
class Rings:
    """
    What each ring of a wire is made for, such as `M8`; "" where there is none, or nobody looked.

    Attributes:
        at_start: The ring at the end that the profile names under `from`.
        at_end: The other one.
    """

    at_start: str = ""
    at_end: str = ""


def stud_mm(size: str) -> float:
    """
    Outside diameter of a stud or screw. [mm]

    Args:
        size: As in profiles.

    Example:
        >>> stud_mm("M8"), stud_mm("5/16 in"), stud_mm("No. 10")
        (8.0, 7.9375, 4.83)
    """
    if size in _NUMBERED_MM:
        return _NUMBERED_MM[size]
    if size.startswith("M"):
        return float(size[1:])
    above, _, below = size.partition(" ")[0].partition("/")
    return MM_PER_IN * int(above) / int(below)
