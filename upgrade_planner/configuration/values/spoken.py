"""Quantities as people say and write them at the car, put into the spelling that profiles have."""

import re

_ABOUT = re.compile(
    r"^(?:about|approx\.?|approximately|around|roughly|circa|ca\.?|~)\s*", re.IGNORECASE
)
_FEET_AND_INCHES = re.compile(
    r"(\d+)\s*(?:'|′|ft\.?|foot|feet)(?:\s*(\d+(?:\.\d+)?)\s*(?:\"|″|''|in\.?|inch|inches)?)?",
    re.IGNORECASE,
)
_INCHES = re.compile(r"(\d+(?:\.\d+)?)\s*(?:\"|″|''|in\.?|inch|inches)", re.IGNORECASE)
_METRES = re.compile(r"(\d+(?:\.\d+)?)\s*(?:metres?|meters?)", re.IGNORECASE)
_METRES_AND_CENTIMETRES = re.compile(r"(\d+)\s*m\s*(\d\d)(?:\s*cm)?", re.IGNORECASE)
_COMMA = re.compile(r"(\d+),(\d{1,2})(?!\d)")


def spoken_length(text: str) -> str:
    r"""
    A length in the spelling of profiles; what is none stays as it is.

    Args:
        text: As written: feet and inches by sign or word, a decimal comma, "about" before it.

    Example:
        >>> [spoken_length(one) for one in ("6 feet", "4'", "about 1 m", "1,4 m", "18 inches")]
        ['6 ft', '4 ft', '1 m', '1.4 m', '18 in']
        >>> spoken_length("4'7\""), spoken_length("1m40")
        ('4 ft 7 in', '1.40 m')
    """
    plain = _COMMA.sub(r"\1.\2", _ABOUT.sub("", " ".join(text.split())))
    feet = _FEET_AND_INCHES.fullmatch(plain)
    if feet:
        return f"{feet[1]} ft {feet[2]} in" if feet[2] else f"{feet[1]} ft"
    both = _METRES_AND_CENTIMETRES.fullmatch(plain)
    if both:
        return f"{both[1]}.{both[2]} m"
    for pattern, unit in ((_INCHES, "in"), (_METRES, "m")):
        found = pattern.fullmatch(plain)
        if found:
            return f"{found[1]} {unit}"
    return plain
