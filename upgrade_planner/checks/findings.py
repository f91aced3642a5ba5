"""A finding: what a rule says of a configuration."""

from enum import StrEnum

from attrs import frozen


class Severity(StrEnum):
    """How bad it is; a danger blocks the job."""

    DANGER = "danger"
    WARNING = "warning"
    CAUTION = "caution"
    NOTE = "note"


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
