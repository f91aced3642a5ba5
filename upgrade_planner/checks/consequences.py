"""
What follows from what: the table of causes, the surest first.

Codes are beginnings of `code/cause` of a finding.
"""

from upgrade_planner.attributes import frozen

ELECTRICAL = ("PWR-", "CHG-", "IGN-", "STA-", "GND-", "DROP-", "RLY-", "PROT-", "FUEL-")
"""All that is computed: nothing of it holds while the battery is joined the wrong way, or not."""

HEAT_AND_DROP = (
    "DROP-",
    "CHG-BALANCE",
    "CHG-AMMETER-NOW",
    "CONN-CAVITY-CURRENT",
    "GND-CRANKING",
    "GND-LOADED",
    "IGN-COIL-STARVED/little-current",
    "IGN-CRANK-LOW",
    "PROT-FUSE-SMALL",
    "PROT-LINK-SMALL",
    "PWR-DRAIN",
    "STA-DROP",
    "STA-PULL-IN",
    "STA-SIGNAL-DROP",
)
"""What currents that ought not to flow make of good wires."""

GUARDING = ("PROT-LATE", "PROT-LINK-BIG", "PROT-NONE", "PROT-FUSE-BIG", "PROT-OUTPUT")
"""What a wire in the wrong place is, too, for the guards that stand before it there."""

OVERDRAWN = (
    "CHG-AMMETER-NOW",
    "PWR-DRAIN",
    "GND-CRANKING",
    "GND-LOADED",
    "DROP-HOT",
    "DROP-PATH",
    "STA-SIGNAL-DROP",
)
"""What loads make that take more than the machine gives."""

OVERRUN = ("CHG-JUNCTION", "CHG-LINK", "CHG-FUSE", "CHG-AMMETER/", "CHG-AMMETER-NOW")
"""What a machine that is too large for its car does to the parts its output passes."""

DEAD = (
    "PWR-NO-FEED",
    "PWR-DEAD",
    "PWR-SWITCH-DEAD",
    "IGN-NO-FEED",
    "IGN-START-DEAD",
    "CHG-NO-EXCITE",
    "CHG-NO-FIELD",
    "STA-NO-SIGNAL",
    "STA-DEAD",
    "RLY-NO-COIL",
    "DROP-PATH",
    "IGN-CRANK-LOW",
)
"""What is dead, or fed by another way, because a common feed is missing."""


@frozen
class Cause:
    """
    One sort of cause; all codes are beginnings of codes.

    Attributes:
        codes: Of the cause.
        everywhere: Of what follows from it, wherever that is.
        shared: Of what follows where it names a wire or part that the cause names too.
        least_parts: The cause must name as many parts.
    """

    codes: tuple[str, ...]
    everywhere: tuple[str, ...] = ()
    shared: tuple[str, ...] = ()
    least_parts: int = 0


CAUSES = (
    Cause(("PWR-REVERSED",), ELECTRICAL),
    Cause(("WIRE-TOUCHES",), ()),
    Cause(
        ("PWR-SHORT",),
        (
            *HEAT_AND_DROP,
            "CHG-OUTPUT-DROP",
            "CHG-NO-FIELD",
            "CHG-SENSE-DROP",
            "PWR-DEAD",
            "PWR-OFF-LIVE",
            "RLY-OVERLOAD",
        ),
    ),
    Cause(("PWR-BATTERY-OPEN",), ELECTRICAL),
    Cause(
        ("GND-NO-PATH",),
        (
            "GND-",
            "STA-GROUND",
            "STA-DEAD",
            "CHG-GROUND",
            "CHG-BALANCE",
            "CHG-NO-FIELD",
            "CHG-CUT-OUT-GROUND",
            "CHG-BOX-GROUND",
            "IGN-GROUND",
            "IGN-POINTS-CURRENT",
            "PWR-SOLENOID-LIVE",
            "PWR-NO-RETURN",
            "PWR-DEAD",
            "PWR-ORPHAN",
            "RLY-WEAK",
            "PROT-LATE",
        ),
    ),
    Cause(
        ("TERM-ROLE",),
        (
            *HEAT_AND_DROP,
            "CHG-BALANCE",
            "CHG-FIELD-DRAIN",
            "CHG-LAMP-BRIDGED",
            "CHG-NO-",
            "CHG-RUN-ON",
            "CHG-VOLTMETER",
            "PWR-IN-SERIES",
            "PWR-NO-RETURN",
        ),
        ("CHG-", "IGN-", "PWR-", *GUARDING),
    ),
    Cause(("STA-HOLDS",), ("STA-SWAPPED",)),
    Cause(("PWR-PART-REVERSED",), (), ("IGN-", "PWR-", "CHG-")),
    Cause(
        ("STA-SWAPPED/turns-at-once",),
        ("PWR-", "STA-", "CHG-", "IGN-", "PROT-OUTPUT", *HEAT_AND_DROP),
        GUARDING,
    ),
    Cause(
        ("STA-SWAPPED",),
        ("PWR-SOLENOID-LIVE", "STA-FED", "STA-NO-SIGNAL", "STA-LIVE", *HEAT_AND_DROP, *DEAD),
        ("STA-SWAPPED", "IGN-", "CHG-", *GUARDING),
    ),
    Cause(
        ("PWR-SOLENOID-LIVE",),
        ("STA-FED", "STA-LIVE", "RLY-LATCH", "CHG-RUN-ON", "IGN-POINTS-CURRENT", *HEAT_AND_DROP),
        ("IGN-BYPASS", *GUARDING),
    ),
    Cause(
        ("STA-LIVE",),
        ("RLY-LATCH", *HEAT_AND_DROP),
        GUARDING,
    ),
    Cause(
        ("CHG-NO-CUT-OUT",),
        ("CHG-FIELD-DRAIN", "PWR-NO-RETURN", *HEAT_AND_DROP),
        GUARDING,
    ),
    Cause(
        ("IGN-KEY-OFF", "IGN-SWITCH-LIVE"),
        ("PWR-OFF-LIVE", "CHG-FIELD-DRAIN", "IGN-BALLAST-BRIDGED", "PWR-DRAIN", "CHG-RUN-ON"),
        ("CONN-STUD", "DROP-", *GUARDING),
    ),
    Cause(("STA-SWITCH-LIVE",), (), ("DROP-", *GUARDING)),
    Cause(("IGN-GROUND",), ("CHG-RUN-ON",), ("PWR-", "IGN-")),
    Cause(("CHG-NO-EXCITE/diode-reversed",), ("IGN-CD-RUN-ON", "CHG-RUN-ON")),
    Cause(
        ("CHG-OUTPUT-OPEN/switched",),
        ("CHG-RUN-ON",),
        ("CHG-", "CONN-CAVITY-CURRENT", "PROT-OUTPUT"),
    ),
    Cause(("CHG-RUN-ON",), ("IGN-CD-RUN-ON", "FUEL-RUNS"), ("CONN-STUD", "DROP-", *GUARDING)),
    Cause(("RLY-ROLE",), ("PWR-DRAIN",), ("DROP-", "PWR-", *GUARDING)),
    Cause(("PWR-IN-SERIES", "PWR-LOOSE-END"), (), ("PWR-", "IGN-", "STA-", "RLY-")),
    Cause(("CHG-LAMP-BRIDGED",), ("CHG-RUN-ON", "CHG-FIELD-DRAIN", "PWR-NO-RETURN"), GUARDING),
    Cause(
        ("CHG-FIELD-DRAIN",), ("PWR-OFF-LIVE", "PWR-DRAIN", "DROP-HOT"), ("CONN-STUD", *GUARDING)
    ),
    Cause(("IGN-CD-COIL",), (), ("DROP-", *GUARDING)),
    Cause(("IGN-CD-SUPPLY",), (), ("DROP-", *GUARDING)),
    Cause(("FUEL-RUNS", "PWR-OFF-LIVE"), ("PWR-DRAIN",)),
    Cause(
        ("PWR-NO-FEED",),
        DEAD,
        ("CHG-BALANCE", "PROT-NONE", "PWR-NO-RETURN", "CONN-CAVITY-CURRENT", "CHG-SENSE-OPEN"),
        least_parts=2,
    ),
    Cause(
        ("CHG-OUTPUT-OPEN",),
        ("CHG-BALANCE", "CHG-NO-EXCITE", "PWR-NO-RETURN"),
        ("PWR-", "CHG-", *GUARDING),
    ),
    Cause(
        ("CHG-NO-REGULATOR", "CHG-FIELD-CIRCUIT", "CHG-BOX-GROUND", "CHG-GROUND", "CHG-SET-POINT"),
        ("CHG-BALANCE", "CHG-NO-", "PWR-NO-RETURN", "PWR-NO-FEED", "IGN-POINTS-CURRENT"),
        ("DROP-", "PWR-", "CONN-CAVITY-CURRENT"),
    ),
    Cause(("CHG-NO-FIELD",), ("CHG-BALANCE", "CONN-CAVITY-CURRENT"), ("PWR-NO-FEED", "CHG-")),
    Cause(("CHG-LAMP-LOOSE",), ("CHG-NO-EXCITE", "PWR-NO-RETURN")),
    Cause(("CHG-NO-EXCITE",), ("PWR-NO-RETURN", "CHG-BALANCE"), ("PWR-NO-FEED",)),
    Cause(("STA-NO-SIGNAL",), ("STA-DEAD", "RLY-NO-COIL"), ("PWR-", "IGN-")),
    Cause(("STA-GROUND",), ("STA-DEAD",), ("PWR-", "GND-")),
    Cause(("IGN-START",), (), ("IGN-CRANK-LOW", "IGN-NO-BYPASS")),
    Cause(("IGN-NO-FEED", "IGN-KEY-DEAD", "IGN-START-DEAD"), ("PWR-DEAD",), ("PWR-", "IGN-")),
    Cause(("PWR-NO-FEED",), (), ("PWR-", "IGN-", "RLY-", "STA-")),
    Cause(("CHG-SENSE",), (), (*GUARDING, "PROT-FUSE-SMALL", "CHG-SENSE")),
    Cause(("CHG-VOLTMETER",), (), (*GUARDING, "CONN-STUD")),
    Cause(("GND-BATTERY-THIN",), ("PROT-LATE",)),
    Cause(
        ("GND-BATTERY-THIN", "GND-STRAP-THIN"),
        ("GND-LOADED", "IGN-POINTS-CURRENT"),
        ("DROP-", "GND-", "STA-DROP"),
    ),
    Cause(
        ("IGN-BALLAST-BRIDGED", "IGN-MODULE-CURRENT", "IGN-POINTS-CURRENT"),
        ("IGN-BYPASS",),
        ("DROP-", *GUARDING),
    ),
    Cause(("IGN-STARVED", "IGN-COIL-STARVED"), ("IGN-CRANK-LOW", "IGN-BYPASS", "IGN-NO-BYPASS")),
    Cause(("RATED-BATTERY",), ("IGN-CRANK-LOW", "PROT-LATE", *HEAT_AND_DROP)),
    Cause(("IGN-CRANK-LOW",), ("PROT-LATE/never-opens", "IGN-CRANK-LOW")),
    Cause(("IGN-TACHOMETER", "IGN-BYPASS"), (), ("DROP-", *GUARDING)),
    Cause(("RLY-CHATTER", "RLY-LATCH"), ("PWR-DRAIN",)),
    Cause(("RATED-",), ("PROT-FUSE-SMALL", "DROP-", "RLY-WEAK")),
    Cause(
        ("CHG-BALANCE",),
        OVERDRAWN,
    ),
    Cause(("ISO-RATING",), ("GND-CRANKING",)),
    Cause(("GND-CRANKING",), (), ("DROP-WIRE", "GND-", "STA-DROP", "STA-PULL-IN")),
    Cause(("GND-LOADED",), ("DROP-WIRE/ground",)),
    Cause(("PROT-FUSE-SMALL/overloaded",), ("DROP-HOT", "PROT-LINK-SMALL", "PROT-LATE")),
    Cause(("PROT-LATE",), (), ("PROT-LINK-BIG", "PROT-FUSE-BIG")),
    Cause(("CHG-CAVITY",), (), ("CONN-CAVITY-CURRENT", *OVERRUN)),
    Cause(("CHG-JUNCTION", "CHG-LINK", "CHG-AMMETER"), (), ("CHG-", "PROT-LINK-SMALL")),
    Cause(("CHG-TWO-REGULATORS",), ("CHG-FIELD-LEFT",)),
    Cause(("STA-DEAD",), (), ("PWR-", "STA-", "IGN-CRANK-LOW")),
    Cause(("DROP-WIRE/live",), ("DROP-PATH",)),
    Cause(("DROP-WIRE",), (), ("STA-DROP", "STA-PULL-IN", "STA-SIGNAL-DROP", "CHG-OUTPUT-DROP")),
    Cause(("STA-SIGNAL-DROP", "STA-PULL-IN"), ("DROP-PATH",), ("STA-PULL-IN", "STA-SIGNAL-DROP")),
)
"""The surest cause first: what it takes with it is no cause any more."""
