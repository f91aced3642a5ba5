"""What a described file changes: lengths, wires past fuses, field circuit, what was converted."""

from collections.abc import Iterator, Mapping

from upgrade_planner.configuration.files.toml_text import quoted_text, value_text
from upgrade_planner.configuration.kinds import Family
from upgrade_planner.configuration.model import Component, Conductor, Configuration, TerminalRef
from upgrade_planner.documents.profiles.described_parts import Length
from upgrade_planner.documents.words.written import written_table
from upgrade_planner.library.proposing import Proposal
from upgrade_planner.library.questions import Answers
from upgrade_planner.library.traits import NONE
from upgrade_planner.targets.settling import Settled
from upgrade_planner.targets.wish_edits import EditKey

JOINED = "joint"

PLAIN = "PVC"
"""Insulation of the plain wire where the profile has a link. Our assumption."""


def has_no_fuses(answers: Answers) -> bool:
    """True if somebody said that nothing guards the wires."""
    return "fuses" in answers and answers["fuses"].ids == (NONE,)


def past_fuses(configuration: Configuration) -> Mapping[str, Mapping[str, str]]:
    """
    Changes of wires, by id, that leave no fuse, breaker or link in any way.

    A link becomes plain wire; what hangs behind a fuse meets its feed in a joint, or on the
    terminal before it.
    """
    before = {
        TerminalRef(part.role, end): TerminalRef(part.role, start)
        for part in configuration.components
        if part.family is Family.PROTECTION
        for start, end in _ways(part)
    }
    before |= {
        TerminalRef(role, terminal.name): TerminalRef(role, JOINED)
        for role in joints_for_fuses(configuration)
        for terminal in configuration.component(role).terminals
    }
    changes: dict[str, dict[str, str]] = {}
    for wire in configuration.wires:
        is_link = wire.conductor is Conductor.LINK
        entry = {"conductor": str(Conductor.COPPER), "insulation": PLAIN} if is_link else {}
        ends = {"from": wire.start, "to": wire.end}
        now = {key: before.get(ref, ref) for key, ref in ends.items()}
        if now["from"] != now["to"]:
            entry |= {key: str(ref) for key, ref in now.items() if ref != ends[key]}
        if entry:
            changes[wire.id] = entry
    return changes


def joints_for_fuses(configuration: Configuration) -> tuple[str, ...]:
    """Roles of single fuses in whose place the wires are joined; not those that name a terminal."""
    named = {ref.role for ref in configuration.named_terminals.values()}
    parts = configuration.parts_of(Family.PROTECTION)
    return tuple(part.role for part in parts if part.is_single_fuse and part.role not in named)


def joint_lines(configuration: Configuration) -> Iterator[str]:
    """Each such fuse as a joint, for there is none on the vehicle."""
    terminal = {"name": JOINED, "label": "", "connection": "splice"}
    for role in joints_for_fuses(configuration):
        name = f"Joint; no fuse here, as in the profile: {configuration.component(role).name}"
        yield from ("", "[[as_found.change_component]]", f"role = {quoted_text(role)}")
        yield from ('kind = "splice"', f"name = {quoted_text(name)}")
        yield f"terminals = {value_text([terminal])}"


def _ways(part: Component) -> tuple[tuple[str, str], ...]:
    if "fuses" in part.ratings:
        return tuple((way.start, way.end) for way in part.ratings["fuses"])
    return (("in", "out"),)


def changed_wires(
    configuration: Configuration, lengths: tuple[Length, ...], *, unfused: bool
) -> dict[str, tuple[dict[str, str], str]]:
    """What is said of wires by id, and why."""
    past = past_fuses(configuration) if unfused else {}
    found = {name: (dict(entry), "no fuse on the vehicle") for name, entry in past.items()}
    for one in lengths:
        if one.wire_id:
            entry, why = found.get(one.wire_id, ({}, ""))
            words = "; ".join(filter(None, (f"measured: {one.title}", why)))
            found[one.wire_id] = ({**entry, "length": one.text}, words)
    return found


def overrides_of(proposal: Proposal, answers: Answers) -> dict[str, dict[str, object]]:
    """The ratings of a proposal, and the field circuit that was found, where it is another one."""
    found = {role: dict(ratings) for role, ratings in proposal.overrides.items()}
    answer = answers.get("field_circuit")
    for part in proposal.configuration.components:
        there = part.ratings.get("field_circuit")
        if answer and there is not None and there != answer.ids[0]:
            found.setdefault(part.role, {})["field_circuit"] = answer.ids[0]
    return found


def converted_roles(conversion: Settled | None) -> tuple[str, ...]:
    """Parts that a conversion changed, in order of their roles."""
    return tuple(sorted(conversion.target.lines()[EditKey.CHANGE_PART])) if conversion else ()


def looks_at(conversion: Settled) -> list[str]:
    """What to look at on the vehicle, one thing each: parts by family, wires together."""
    words: Mapping[str, str] = written_table("targets")["look"]
    asked = [question.role for question in conversion.target.questions]
    of: dict[str, list[str]] = {}
    for role in sorted({*converted_roles(conversion), *asked}):
        part = conversion.configuration.component(role)
        of.setdefault(words.get(part.family, words["else"]), []).append(part.name)
    wires = sorted(conversion.target.lines()[EditKey.CHANGE_WIRE])
    of |= {words["wire"]: wires} if wires else {}
    return [f"{look} {'; '.join(names)}." for look, names in of.items()]
