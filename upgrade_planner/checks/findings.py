"""A finding: what a rule says of a configuration."""

from enum import StrEnum

from attrs import frozen


class Severity(StrEnum):
    """How bad it is; a danger blocks the job."""

    DANGER = "danger"
    WARNING = "warning"
    CAUTION = "caution"
    NOTE = "note"


MOST_DIGITS = 6


def volts_against(value_v: float, limit_v: float) -> tuple[str, str]:
    """
    A voltage and its limit as text, with as many digits as it takes to tell them apart.

    Example:
        >>> volts_against(0.1012, 0.1)
        ('0.101 V', '0.100 V')
    """
    for digits in range(2, MOST_DIGITS):
        shown, limit = f"{value_v:.{digits}f} V", f"{limit_v:.{digits}f} V"
        if shown != limit:
            break
    return shown, limit


@frozen(kw_only=True)
class Finding:
    """
    What one rule found.

    Attributes:
        code: Our own code of the rule.
        title: The rule in a few words.
        where: Wires and parts concerned, as named in the profile.
        what: What is there, with value and limit.
        remedy: What to do, a sentence for the workshop.
        source: Where the limit comes from.
    """

    code: str
    title: str
    severity: Severity
    where: tuple[str, ...]
    what: str
    remedy: str
    source: str
