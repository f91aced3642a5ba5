"""Numbers that no person would write, in words of the program."""

import re
from string import Formatter

from upgrade_planner.configuration.values.measures import Quantity
from upgrade_planner.documents.words.filling import filled
from upgrade_planner.documents.words.findings import sentences

ODD = {
    "minus zero": re.compile(r"(?<![\w.])[-\N{MINUS SIGN}]0(?:\.0+)?(?![\d.])"),
    "nothing in many digits": re.compile(r"(?<![\d.])0\.0{3,}(?!\d)"),
    "thousands of a small unit": re.compile(r"(?<![\d.])\d{5,}(?:\.\d+)? ?m(?:A|V|m|Ω|ohm|s)\b"),
    "more than four figures": re.compile(r"(?<![\d.])\d+\.\d{4,}"),
    "power of ten": re.compile(r"\d[eE][+-]\d"),
    "no number": re.compile(r"\b(?:nan|inf)\b"),
}


def odd_numbers(text):
    """Each number of a text that is odd, with what is odd about it."""
    return [
        f"{name}: {text[max(0, m.start() - 30) : m.end() + 20]!r}"
        for name, rule in ODD.items()
        for m in rule.finditer(text)
    ]


def told_alike(finding, units):
    """True if what was found and what it is judged by differ, and read the same."""
    if not isinstance(finding.value, Quantity) or not isinstance(finding.limit, Quantity):
        return False
    by_cause = sentences().findings[finding.code]["what"]
    sentence = by_cause.get(finding.cause, by_cause.get("", ""))
    written = {
        name: "{" + name + (f":{spec}" if spec else "") + "}"
        for _, name, spec, _ in Formatter().parse(sentence)
        if name in ("value", "limit")
    }
    if len(written) < 2 or finding.value == finding.limit:
        return False
    value, limit = (filled(written[name], finding.named, units) for name in ("value", "limit"))
    return value == limit
