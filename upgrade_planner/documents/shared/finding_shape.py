"""What findings look like as data; the schema is made from these."""

from typing import Any, NotRequired, TypedDict

from upgrade_planner.checks.findings import Severity, SubjectForm
from upgrade_planner.configuration.structuring.entries import Ground
from upgrade_planner.documents.shared.data_text import DataForm


class ConfigurationData(TypedDict):
    """What identifies a configuration."""

    name: str
    title: str
    vehicle: str
    ground: Ground
    voltage_v: float
    digest: str


class SubjectData(TypedDict):
    """
    What a finding is about.

    Attributes:
        name: Id of the wire, role of the part, or name of the lump of metal.
    """

    sort: SubjectForm
    name: str
    terminal: NotRequired[str]


class RemedyData(TypedDict):
    """What to do about it."""

    code: str
    facts: dict[str, Any]
    words: str


class FindingData(TypedDict):
    """
    One finding.

    Attributes:
        cause: Which case of the rule is true; "" if it has one only.
        value, limit: In `unit`; a count has none; null where it is not one number.
        facts: What else the sentence names: numbers with unit, sizes, subjects, names.
        why: What comes of it; "" where `what` says so.
        follows: Findings that follow from this one and go with it.
    """

    code: str
    cause: str
    severity: Severity
    subjects: list[SubjectData]
    value: float | int | None
    limit: float | int | None
    unit: str
    facts: dict[str, Any]
    title: str
    what: str
    why: str
    remedy: RemedyData
    source: str
    follows: list["FindingData"]


class FindingsData(TypedDict):
    """Findings of one configuration."""

    configuration: ConfigurationData
    findings: list[FindingData]


FINDINGS = DataForm("findings", 3, FindingsData)
