"""Writes what a person saw of a vehicle as a configuration, commented and proven to load."""

import tempfile
from collections.abc import Iterator, Mapping
from pathlib import Path

from attrs import evolve, frozen

from upgrade_planner.configuration.files.toml_text import comment, quoted_text, table_list
from upgrade_planner.configuration.files.toml_text import value_text as toml_value
from upgrade_planner.documents.profiles.described_changes import (
    changed_wires,
    has_no_fuses,
    overrides_of,
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
from upgrade_planner.documents.shared.writing import require_target, write_whole
from upgrade_planner.documents.terminal.proposals import points_words
from upgrade_planner.electrical.sizing import load_sized
from upgrade_planner.errors import PlannerError
from upgrade_planner.library import collected
from upgrade_planner.library.answer_files import AnswerFile, answers_template, load_answers
from upgrade_planner.library.collected import Say
from upgrade_planner.library.proposing import Proposal, proposals
from upgrade_planner.library.questions import (
    Answer,
    AnswerError,
    Answers,
    Question,
    completed,
    is_unknown,
    questions,
    read_answer,
    wanted_of,
)

__all__ = [
    "Answer",
    "AnswerError",
    "AnswerFile",
    "Answers",
    "Described",
    "Proposal",
    "Question",
    "completed",
    "describe",
    "is_unknown",
    "load_answers",
    "proposals_for",
    "questions",
    "read_answer",
    "require_free",
    "write_questions",
]

SUFFIX = ".toml"
LONGEST_NOTE = 1900
"""Characters; a profile's text may have 2000."""

UNNAMED = "Vehicle without a name"


@frozen(kw_only=True, eq=False)
class Described:
    """
    A configuration as written.

    Attributes:
        proposal: What it starts from.
        remarks: What went otherwise than asked for, a sentence each.
        doubts: Questions without a full answer.
    """

    target: Path
    proposal: Proposal
    remarks: tuple[str, ...]
    doubts: tuple[str, ...]


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
    """

    ground: str
    voltage: str
    on_base: bool
    unfused: bool


def require_free(target: Path, *, replace: bool) -> None:
    """
    Says before the first question what would only come out after the last.

    Raises:
        NotWritten: another suffix, a folder, a missing folder, or a file that is there already.
    """
    require_target(target, (SUFFIX,), is_edited=True, replace=replace)


def proposals_for(answers: Answers, say: Say = lambda _: None) -> tuple[Proposal, ...]:
    """
    What a configuration may start from, the nearest first.

    Raises:
        PlannerError: no shipped configuration is sound.
    """
    library = collected.load_library(say)
    if not library.shipped:
        raise PlannerError("describe: found no sound shipped configuration to start from")
    return proposals(wanted_of(answers), library, say)


def write_questions(target: Path, *, replace: bool = False) -> None:
    """
    Writes a file of answers to fill in.

    Raises:
        NotWritten: the target cannot be written.
    """
    require_free(target, replace=replace)
    write_whole(target, answers_template().encode())


def describe(
    target: Path, chosen: Proposal, found: tuple[Proposal, ...], answers: Answers
) -> Described:
    """
    Writes the configuration that answers and a proposal make.

    A combination that does not load gives way to the nearest shipped configuration.

    Args:
        target: File to write.
        chosen: What to start from.
        found: All proposals, the nearest first.
        answers: What was seen.

    Raises:
        NotWritten: the target cannot be written.
        ConfigurationError: nothing of it loads; a fault of this program or of a shipped file.
    """
    remarks: list[str] = []
    shipped = [one for one in found if not one.is_combination]
    for start in (chosen, *(one for one in shipped[:1] if one is not chosen)):
        proposal = evolve(start, overrides=overrides_of(start, answers))
        for way in _ways_of_writing(proposal, answers):
            text = described_text(proposal, answers, way)
            failure = failure_of(text)
            if failure is None:
                write_whole(target, text.encode())
                return Described(
                    target=target,
                    proposal=start,
                    remarks=tuple(remarks),
                    doubts=tuple(question.ask for question in doubts_of(answers)),
                )
            remarks += [] if way.on_base else [_remark(proposal, way.ground, failure)]
    assert failure is not None
    raise failure


def failure_of(text: str) -> PlannerError | None:
    """Why a configuration does not load; None if it does."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / f"described{SUFFIX}"
        path.write_text(text, encoding="utf-8")
        try:
            load_sized(str(path))
        except PlannerError as error:
            return error
    return None


def _ways_of_writing(proposal: Proposal, answers: Answers) -> Iterator[Attempt]:
    """The ways to write a file, the best first."""
    for unfused in (True, False) if has_no_fuses(answers) else (False,):
        for ground, voltage, on_base in _turns(proposal, answers):
            yield Attempt(ground=ground, voltage=voltage, on_base=on_base, unfused=unfused)


def _turns(proposal: Proposal, answers: Answers) -> Iterator[tuple[str, str, bool]]:
    """Ground and voltage to write, and whether upon the shipped configuration."""
    ground, voltage = _other_ground(proposal, answers), _other_voltage(proposal, answers)
    for one, other in dict.fromkeys(((ground, voltage), (ground, ""), ("", ""))):
        if proposal.is_combination:
            yield one, other, True
        yield one, other, False


def _other_voltage(proposal: Proposal, answers: Answers) -> str:
    """The system voltage, if the proposal has another one; "" if it is the same."""
    answer = answers.get("voltage")
    there = f"{proposal.configuration.vehicle.voltage_v:g}"
    return answer.ids[0] if answer and answer.ids[0] != there else ""


def _remark(proposal: Proposal, ground: str, failure: PlannerError) -> str:
    reason = str(failure).splitlines()[0].partition(": ")[2] or str(failure)
    what = f"{proposal.name} with {ground} ground" if ground else proposal.name
    return f"{what} does not load ({reason}); it was not used."


def _other_ground(proposal: Proposal, answers: Answers) -> str:
    """The grounded terminal, if the proposal has the other one; "" if it is the same."""
    answer = answers.get("ground")
    there = proposal.configuration.vehicle.ground
    return answer.ids[0] if answer and answer.ids[0] != there else ""


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
    blocks = (
        _head(proposal, answers),
        _doubt_lines(answers),
        _todo_lines(proposal, answers, lengths, way.ground, way.voltage),
        _configuration_lines(proposal, answers, (way.ground, way.voltage), on_base=way.on_base),
        _system_lines(proposal),
        _as_found_lines(proposal, answers, changed, way.ground),
        rating_lines(proposal.configuration, without=proposal.overrides),
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
        return (
            f' Written below (voltage = "{voltage} V"): battery, coil, lamps, gauge, regulator and '
            "motors of the profile are for the other voltage; read off what yours are made for."
        )
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
    yield "[configuration]"
    yield f"title = {quoted_text(_name(answers))}"
    yield f"summary = {quoted_text(summary)}"
    yield f"{origin} = {quoted_text(name)}"
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
    proposal: Proposal,
    answers: Answers,
    changed: Mapping[str, tuple[Mapping[str, str], str]],
    ground: str,
) -> Iterator[str]:
    yield "[as_found]"
    yield f"note = {quoted_text(_note(proposal, answers, ground))}"
    yield "# What differs from the profile goes here. Take the # off a line and put it right:"
    yield "change_wires = ["
    for name, (entry, why) in changed.items():
        (line,) = table_list("x", [{"id": name, **entry}])[1:-1]
        yield f"{line}  # {why}"
    yield from wire_lines(proposal.configuration, without=changed)
    yield "]"
    yield from example_lines(proposal.configuration)


def _note(proposal: Proposal, answers: Answers, ground: str) -> str:
    """What the sheet prints of it: a reader of the sheet does not see the comments."""
    differing = [
        f"{one.title} (vehicle: {one.wanted}; profile: {one.found or 'not stated'})"
        for one in proposal.match.differing
        if not (one.name == "ground" and ground)
    ]
    doubts = [q.key.replace("_", " ") for q in doubts_of(answers) if q.kind not in ("length",)]
    note = "Described by questions; nothing else was compared with the vehicle."
    if differing:
        note += f" The profile differs from the vehicle: {'; '.join(differing)}."
    if doubts:
        note += f" Not known: {', '.join(doubts)}."
    return note[:LONGEST_NOTE]
