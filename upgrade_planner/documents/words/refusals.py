"""Why a wish is refused, in words: what it would bring, as questions with both answers."""

from collections.abc import Iterator, Sequence

from upgrade_planner.checks.findings import Finding, Severity
from upgrade_planner.documents.words.findings import finding_words, title_words
from upgrade_planner.documents.words.written import written_table
from upgrade_planner.targets.wish_edits import Target

UNITS = "metric"


def refusal_words(left: Sequence[Finding], old: Sequence[Finding], wish: Target) -> str:
    """
    Each finding that a wish would bring, with the two ways out of it.

    Args:
        left: What no cure took away.
        old: What the car has already.
        wish: What was wished.
    """
    lines = ["target: found no way to this wish without what the car has not now; decide first:"]
    for finding in left:
        lines += _asked(finding, old, wish)
    dangers = [finding for finding in old if finding.severity is Severity.DANGER]
    if dangers:
        table = written_table("targets")["refused"]
        lines.append(table["dangers"].format(there="; ".join(map(_named, dangers))))
    return "\n".join(lines)


def named_first(finding: Finding) -> str:
    """The first things that a finding names, as people say them."""
    return ", ".join(name.replace("_", " ").replace(".", " ") for name in finding.where[:2])


def _named(finding: Finding) -> str:
    return f"{title_words(finding)} ({named_first(finding)})"


def _asked(finding: Finding, old: Sequence[Finding], wish: Target) -> Iterator[str]:
    words = finding_words(finding, UNITS)
    yield f"DECIDE: {_named(finding)}: {words.what}"
    table = written_table("targets")["refused"]
    own = next((one for one in old if one.code == finding.code), None)
    if own is not None:
        yield f"  1 {table['own-fault'].format(there=_named(own))}"
    else:
        yield f"  1 {table.get(finding.code, words.remedy)}"
    yield f"  2 {table['keep'].format(what=_wished(wish))}"


def _wished(wish: Target) -> str:
    """The options of a wish, as they are typed."""
    options = [f"--{slot} {name}" for slot, name in sorted(wish.systems.items())]
    options += [f"--voltage {wish.voltage_v:g}"] if wish.voltage_v else []
    options += [f"--ground {wish.ground}"] if wish.ground else []
    return ", ".join(options)
