"""Findings as data: numbers and units beside the words, as the contributor guide describes them."""

from collections.abc import Iterable
from typing import Any

from upgrade_planner.checks.findings import Fact, Facts, Finding, Subject
from upgrade_planner.configuration.model import Configuration
from upgrade_planner.configuration.values.measures import Quantity
from upgrade_planner.configuration.values.quantities import unit_inside
from upgrade_planner.configuration.values.sizes import WireSize
from upgrade_planner.documents.shared.data_text import computed_number, data_text
from upgrade_planner.documents.shared.finding_shape import (
    FINDINGS,
    ConfigurationData,
    FindingData,
    FindingsData,
    SubjectData,
)
from upgrade_planner.documents.words.findings import finding_words
from upgrade_planner.documents.words.wording import IN_DATA
from upgrade_planner.electrical.states import State


def findings_json(configuration: Configuration, findings: Iterable[Finding]) -> str:
    """Findings of one configuration as JSON text."""
    data: FindingsData = {
        "configuration": configuration_data(configuration),
        "findings": [finding_data(finding) for finding in findings],
    }
    return data_text(FINDINGS, data)


def configuration_data(configuration: Configuration) -> ConfigurationData:
    """What identifies a configuration."""
    return {
        "name": configuration.name,
        "title": configuration.title,
        "vehicle": configuration.vehicle.title,
        "ground": configuration.vehicle.ground,
        "voltage_v": configuration.vehicle.voltage_v,
        "digest": configuration.digest,
    }


def finding_data(finding: Finding) -> FindingData:
    """One finding: its values, and the words for people in metric units."""
    words = finding_words(finding, IN_DATA)
    figures = [f for f in (finding.value, finding.limit) if isinstance(f, Quantity)]
    return {
        "code": finding.code,
        "cause": finding.cause,
        "severity": finding.severity,
        "subjects": [_subject(subject) for subject in finding.subjects],
        "value": _number(finding.value),
        "limit": _number(finding.limit),
        "unit": unit_inside(figures[0].dimension) if figures else "",
        "facts": _facts(finding.facts),
        "title": words.title,
        "what": words.what,
        "why": words.why,
        "remedy": {
            "code": finding.remedy.code,
            "facts": _facts(finding.remedy.facts),
            "words": words.remedy,
        },
        "source": words.source,
        "follows": [finding_data(follower) for follower in finding.follows],
    }


def _number(value: Quantity | int | None) -> float | int | None:
    return computed_number(value.number) if isinstance(value, Quantity) else value


def _subject(subject: Subject) -> SubjectData:
    data: SubjectData = {"sort": subject.form, "name": subject.name}
    return {**data, "terminal": subject.terminal} if subject.terminal else data


def _facts(facts: Facts) -> dict[str, Any]:
    return {name: _fact(fact) for name, fact in facts.items()}


def _fact(fact: Fact) -> Any:
    if isinstance(fact, tuple):
        return [_fact(one) for one in fact]
    if isinstance(fact, Quantity):
        return {"number": computed_number(fact.number), "unit": unit_inside(fact.dimension)}
    if isinstance(fact, WireSize):
        size = {"system": fact.system, "designation": fact.designation}
        return {**size, "area_mm2": fact.area_mm2}
    if isinstance(fact, Subject):
        return _subject(fact)
    return fact.name if isinstance(fact, State) else fact
