"""Terminal hardware as written in profiles: `stud M6`, `blade 6.3 mm`, `post positive`, `case`."""

from upgrade_planner.configuration.files.faults import FieldFault, one_of, shown
from upgrade_planner.configuration.model import Connection, Joint

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
