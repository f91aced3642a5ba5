"""Terminal hardware as written in profiles: `stud M6`, `blade 6.3 mm`, `post positive`, `case`."""

from attrs import fields

from upgrade_planner.configuration.files.faults import FieldFault, one_of, shown
from upgrade_planner.configuration.model import Connection, Joint
from upgrade_planner.configuration.values.rings import Rings

# Inch studs, their metric neighbours and blade widths: reference tables of stud sizes and of the
# quick-connect families (UL 310 scope, IEC 61210 abstract); bullets: common practice.
_STUDS = ("M3.5", "M4", "M5", "M6", "M8", "M10", "M12", "No. 6", "No. 8", "No. 10")
_INCH_STUDS = ("1/4 in", "5/16 in", "3/8 in", "1/2 in")
_BLADES = ("2.8 mm", "4.8 mm", "6.3 mm", "9.5 mm")
_DOUBLE = "double"

SIZES: dict[Joint, tuple[str, ...]] = {
    Joint.STUD: _STUDS + _INCH_STUDS,
    Joint.SCREW: _STUDS + _INCH_STUDS,
    Joint.BLADE: _BLADES,
    Joint.CAVITY: _BLADES,
    Joint.BULLET: ("4 mm", "5 mm"),
    Joint.POST: ("positive", "negative"),
    Joint.SPLICE: (),
    Joint.CASE: (),
}


def parse_connection(text: object) -> Connection:
    """
    The hardware that `text` names.

    Raises:
        FieldFault: not a text, unknown joint, or a size that joint does not come in.
    """
    if not isinstance(text, str):
        raise FieldFault(shown(text), 'a text such as "stud M6"')
    words = text.split()
    is_double = words[:2] == [_DOUBLE, Joint.BLADE]
    word, _, size = " ".join(words[is_double:]).partition(" ")
    if word not in tuple(Joint):
        raise FieldFault(shown(text), one_of(word, [str(joint) for joint in Joint]))
    joint = Joint(word)
    sizes = SIZES[joint]
    if not sizes and size:
        raise FieldFault(shown(text), f"{joint} without a size")
    if sizes and size not in sizes:
        raise FieldFault(shown(text), f"{joint} with a size: {one_of(size, sizes, limit=20)}")
    return Connection(joint, size, is_double)


NO_RING = "-"
"""In place of a ring that is not there, or that nobody looked at."""


def parse_rings(text: object) -> Rings:
    """
    The rings of a wire, that of `from` first: `M8, M6`, or `-, M6`.

    Raises:
        FieldFault: no text, not two, or a size that studs do not come in.
    """
    expected = 'two, such as "M8, M6", or "-" for an end without'
    if not isinstance(text, str):
        raise FieldFault(shown(text), expected)
    rings = [part.strip() for part in text.split(",")]
    if len(rings) != len(fields(Rings)):
        raise FieldFault(shown(text), expected)
    for ring in rings:
        if ring not in (NO_RING, *SIZES[Joint.STUD]):
            sizes = SIZES[Joint.STUD]
            raise FieldFault(shown(text), f"rings by their stud: {one_of(ring, sizes, limit=20)}")
    return Rings(*("" if ring == NO_RING else ring for ring in rings))


def rings_text(rings: Rings) -> str:
    """As a profile has it; "" where no ring is known."""
    if rings == Rings():
        return ""
    return f"{rings.at_start or NO_RING}, {rings.at_end or NO_RING}"
