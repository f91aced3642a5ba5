"""The text of a described configuration: what it starts from, doubts, what differs."""

from collections.abc import Iterator, Mapping

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.files.toml_text import comment, quoted_text, table_list
from upgrade_planner.configuration.files.toml_text import value_text as toml_value
from upgrade_planner.configuration.model import Configuration
from upgrade_planner.documents.profiles.described_changes import (
    changed_wires,
    converted_roles,
    joint_lines,
    looks_at,
)
from upgrade_planner.documents.profiles.described_parts import (
    Length,
    example_lines,
    lengths_of,
    place_lines,
    rating_lines,
    ratings_as_comments,
    wire_lines,
)
from upgrade_planner.documents.profiles.heads import configuration_head
from upgrade_planner.documents.profiles.target_text import change_lines
from upgrade_planner.documents.terminal.proposals import points_words
from upgrade_planner.library.proposing import Proposal
from upgrade_planner.library.questions import Answers, Question, questions
from upgrade_planner.targets.settling import Settled

LONGEST_REMARK = 1900
"""Characters; a profile's text may have 2000."""

UNNAMED = "Vehicle without a name"

AS_DESCRIBED = "described"
"""Heading of the reasons for what was converted in a description."""


@frozen(kw_only=True)
class Attempt:
    """
    One way to write a file; the next is tried if it does not load.

    Attributes:
        ground: Grounded terminal to write, if it is not that of the proposal.
        voltage: System voltage to write, if it is another one. [V]
        on_base: A combination is written upon the shipped configuration that it is made of, so
            that what that says of the systems it keeps stays.
        unfused: The wires are joined past fuses and links, for the vehicle has none.
        conversion: What the other ground or voltage makes of parts and sizes; None if nothing.
    """

    ground: str
    voltage: str
    on_base: bool
    unfused: bool
    conversion: Settled | None = None


def doubts_of(answers: Answers) -> tuple[Question, ...]:
    """Questions that were not answered, or not to the end."""
    return tuple(
        q
        for q in questions()
        if q.is_of(answers) and (q.key not in answers or answers[q.key].is_vague)
    )


def described_text(proposal: Proposal, answers: Answers, way: Attempt) -> str:
    """
    The configuration as TOML text.

    Args:
        proposal: What it starts from.
        answers: What was seen.
        way: How it is written.
    """
    lengths = lengths_of(proposal.configuration, answers)
    changed = changed_wires(proposal.configuration, lengths, unfused=way.unfused)
    converted = way.conversion.target.lines() if way.conversion else {}
    stands = way.conversion.configuration if way.conversion else proposal.configuration
    blocks = (
        _head(proposal, answers),
        _doubt_lines(answers),
        _converted_lines(way),
        _todo_lines(proposal, answers, lengths, way.ground, way.voltage),
        _configuration_lines(proposal, answers, (way.ground, way.voltage), on_base=way.on_base),
        _system_lines(proposal),
        change_lines(converted, AS_DESCRIBED),
        _as_found_lines(stands, _remarks(proposal, answers, way), changed),
        joint_lines(proposal.configuration) if way.unfused else (),
        rating_lines(stands, without={*proposal.overrides, *converted_roles(way.conversion)}),
        place_lines(proposal.configuration, answers),
    )
    return "\n\n".join("\n".join(block) for block in map(list, blocks) if block) + "\n"


def _head(proposal: Proposal, answers: Answers) -> Iterator[str]:
    match = proposal.match
    what = "the vehicle and systems" if proposal.is_combination else "the shipped configuration"
    yield from comment(f"{_name(answers)}, described on the vehicle.")
    yield from comment(
        f"It starts from {what} '{proposal.name}' ({proposal.title}): "
        f"{points_words(match)} alike. "
        f"As on the vehicle: {', '.join(match.same) or 'nothing that was asked'}."
    )
    yield from comment(
        "Everything that is not named below is taken from there and was not seen: compare it "
        "with the vehicle before any work. Then: upgrade-planner check THIS_FILE, and "
        "upgrade-planner list --from THIS_FILE."
    )


def _doubt_lines(answers: Answers) -> Iterator[str]:
    doubts = doubts_of(answers)
    if doubts:
        yield "# NOT KNOWN. Look on the vehicle, and put right below what differs:"
    for question in doubts:
        vague = f" So far: '{answers[question.key].words}'." if question.key in answers else ""
        yield from comment(f"- {question.ask}{vague} {question.see}", "  ")


def _todo_lines(
    proposal: Proposal, answers: Answers, lengths: tuple[Length, ...], ground: str, voltage: str
) -> Iterator[str]:
    todo = [
        f"{one.title}: the vehicle has {one.wanted}, the profile {one.found or 'does not say'}."
        + _advice(one.name, ground, voltage)
        for one in proposal.match.differing
    ]
    todo += [one.trouble for one in lengths if one.trouble]
    if todo:
        yield "# TODO. Not as on the vehicle:"
    for text in todo:
        yield from comment(f"TODO {text}", "  ")


def _converted_lines(way: Attempt) -> Iterator[str]:
    """Each thing that was written for another voltage or ground, and what to look at."""
    if way.conversion is None:
        return
    looks = looks_at(way.conversion)
    what = " and ".join(filter(None, (way.voltage and f"{way.voltage} V", way.ground)))
    if looks:
        yield from comment(
            f"WRITTEN FOR {what.upper()}, NOT SEEN. Look at each on the vehicle; its line stands "
            "under [changes] below:"
        )
    for look in looks:
        yield from comment(f"- {look}", "  ")


_OTHER_SYSTEM = " Another system for the slot, or [[as_found.change_component]] and wires."

_ADVICE = {
    "voltage": " No figure of the profile holds for it: battery, regulator, coil, lamps, motors "
    "and every current must be put right, or another profile used. Do no work from a sheet "
    "before that.",
    "ground": " Nothing here turns it round: every polarity on a sheet would be wrong. Do no work "
    "from a sheet before that.",
    "charging": _OTHER_SYSTEM,
    "ignition": _OTHER_SYSTEM,
    "starting": _OTHER_SYSTEM,
    "cylinders": " Length of spark and dwell follow from it: put cylinders (and dwell_angle) right "
    "under [overrides.distributor].",
}
"""What to do about a trait that differs. Common practice."""


def _advice(name: str, ground: str, voltage: str) -> str:
    if name == "voltage" and voltage:
        return f' Written below (voltage = "{voltage} V"), and every part that minds it with it.'
    if name == "ground" and ground:
        return (
            f' Turned round below (ground = "{ground}"): compare battery posts, coil and ammeter '
            "leads, and everything with a polarity."
        )
    return _ADVICE.get(name, "")


def _configuration_lines(
    proposal: Proposal, answers: Answers, turned: tuple[str, str], *, on_base: bool
) -> Iterator[str]:
    ground, voltage = turned
    is_vehicle = proposal.is_combination and not on_base
    origin, name = ("vehicle", proposal.name) if is_vehicle else ("based_on", proposal.base)
    summary = f"Described on the vehicle; everything else as in {proposal.name}."
    yield from configuration_head()
    yield f"title = {quoted_text(_name(answers))}"
    yield f"summary = {quoted_text(summary)}"
    yield f"{origin} = {quoted_text(name)}"
    if "name" in answers:
        yield f"called = {quoted_text(_name(answers))}"
    if voltage:
        yield f"voltage = {quoted_text(f'{voltage} V')}"
    if ground:
        yield f"ground = {quoted_text(ground)}"


def _name(answers: Answers) -> str:
    return answers["name"].words if "name" in answers else UNNAMED


def _system_lines(proposal: Proposal) -> Iterator[str]:
    if proposal.is_combination:
        yield "[systems]"
        yield from (f"{slot} = {quoted_text(s)}" for slot, s in sorted(proposal.systems.items()))
    for number, (role, ratings) in enumerate(sorted(proposal.overrides.items())):
        if number or proposal.is_combination:
            yield ""
        yield f"[overrides.{role}]"
        yield from (f"{name} = {_number_or_text(value)}" for name, value in ratings.items())
        part = proposal.configuration.component(role)
        yield from ratings_as_comments(part, without=ratings)


def _number_or_text(value: object) -> str:
    return str(value) if isinstance(value, int) else toml_value(value)


def _as_found_lines(
    stands: Configuration,
    remarks: list[str],
    changed: Mapping[str, tuple[Mapping[str, str], str]],
) -> Iterator[str]:
    yield "[as_found]"
    yield f"note = {quoted_text(NOTE)}"
    if remarks:
        yield f"remarks = {toml_value(tuple(remarks))}"
    yield "# What differs from the profile goes here. Take the # off a line and put it right:"
    yield "change_wires = ["
    for name, (entry, why) in changed.items():
        (line,) = table_list("x", [{"id": name, **entry}])[1:-1]
        yield f"{line}  # {why}"
    yield from wire_lines(stands, without=changed)
    yield "]"
    yield from example_lines(stands)


NOTE = "Described, and not yet compared with the vehicle wire by wire."
"""What every paper says of a vehicle that was described, the customer's, too."""


def _remarks(proposal: Proposal, answers: Answers, way: Attempt) -> list[str]:
    """What the sheet prints of it: a reader of the sheet does not see the comments."""
    differing = [
        f"{one.title} (vehicle: {one.wanted}; profile: {one.found or 'not stated'})"
        for one in proposal.match.differing
        if not (one.name == "ground" and way.ground)
    ]
    roles = [role.replace("_", " ") for role in converted_roles(way.conversion)]
    doubts = [q.key.replace("_", " ") for q in doubts_of(answers) if q.kind not in ("length",)]
    told = (
        ("The profile differs from the vehicle", "; ".join(differing)),
        ("Converted on paper and not seen", ", ".join(roles)),
        ("Not known", ", ".join(doubts)),
    )
    return [f"{what}: {those}."[:LONGEST_REMARK] for what, those in told if those]
