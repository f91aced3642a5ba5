"""Words in which people answer a survey form, and what each means."""

import re

from upgrade_planner.configuration.conditions import GOOD, Condition

YES, NO, ELSEWHERE = "yes", "no", "elsewhere"
TICKED_CONDITIONS = tuple(
    c
    for c in Condition
    if c not in (Condition.MEASURED_OFF, Condition.RENEW, Condition.TOUCHES_METAL)
)
CONDITIONS = (GOOD, *TICKED_CONDITIONS)

SAID_YES = {"yes", "y", "x", "1", "true", "on", "present", "there", "here", "ok", "✓", "✔", "☑"}
SAID_NOTHING = {"?", "don't know", "dont know", "not known", "not looked", "not looked at"}
SAID_NO = {"no", "n", "0", "false", "absent", "missing", "gone"}
SAID_ELSEWHERE = {"elsewhere", "joined elsewhere", "moved"}
OTHER_CONDITIONS = {
    "touches metal": Condition.TOUCHES_METAL,
    "rubbed through": Condition.TOUCHES_METAL,
    "bare on metal": Condition.TOUCHES_METAL,
    "corroded": Condition.CORRODED,
    "corroded ends": Condition.CORRODED,
    "burned": Condition.BURNT,
    "rusty": Condition.CORRODED,
    "green": Condition.CORRODED,
    "melted": Condition.BURNT,
    "scorched": Condition.BURNT,
    "browned": Condition.BURNT,
    "worn": Condition.CRACKED,
    "chafed": Condition.CRACKED,
    "brittle": Condition.CRACKED,
    "frayed": Condition.CRACKED,
    "perished": Condition.CRACKED,
    "bare": Condition.CRACKED,
    "rust": Condition.CORRODED,
    "rusted": Condition.CORRODED,
    "verdigris": Condition.CORRODED,
    "hot": Condition.BURNT,
    "charred": Condition.BURNT,
    "soldered": Condition.REPAIRED,
    "twisted": Condition.REPAIRED,
    "fine": GOOD,
    "sound": GOOD,
    "hard": Condition.STIFF,
    "mended": Condition.REPAIRED,
    "taped": Condition.REPAIRED,
    "spliced": Condition.REPAIRED,
    "ok": GOOD,
}
"""What people call a condition; insulation that is worn through serves no more than cracked."""

CIRCUIT_WORDS = {
    "ignition": "ignition feed",
    "coil": "ignition feed",
    "charging": "charge output",
    "charge": "charge output",
    "lights": "lamps",
    "light": "lamps",
    "lamp": "lamps",
    "earth": "ground",
    "starting": "start signal",
    "radio": "accessory",
    "fan": "accessory",
}
"""What people call a circuit; source: common practice."""

LIKE = 0.75
"""How like a word of the form another one must be to be a slip of the pen; our assumption."""

_BARE = re.compile(r"#?\d+(?:\.\d+)?(?:/0)?(?:\s*(?:ga?|gauge))?", re.ASCII | re.IGNORECASE)


def is_bare(size: str) -> bool:
    """True for a size without its system."""
    return _BARE.fullmatch(size.strip()) is not None


_LITTLE_WORDS = {"insulation", "sleeve", "cover", "end", "ends", "both", "one", "the", "a", "bit"}
_LITTLE_WORDS |= {"little", "slightly", "very", "badly", "quite", "rather", "wire", "is", "are"}
"""Words before a condition that say nothing about which it is."""


def condition_meant(text: str) -> str:
    """
    The condition that some words name: alone, or with what it is of and where.

    Example:
        >>> str(condition_meant("corroded at the solenoid")), condition_meant("not burnt")
        ('corroded end', 'not burnt')
        >>> str(condition_meant("insulation badly melted"))
        'burnt'
    """
    said = [word for word in text.split() if word not in _LITTLE_WORDS]
    known = {word.partition(" ")[0]: word for word in CONDITIONS} | OTHER_CONDITIONS
    return text if text in CONDITIONS else known.get(text, known.get("".join(said[:1]), text))
