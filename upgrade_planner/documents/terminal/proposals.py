"""The shipped configurations most like a vehicle, shown on the screen."""

from collections.abc import Sequence
from textwrap import fill

from upgrade_planner.documents.terminal.console import console
from upgrade_planner.documents.terminal.spoken import said
from upgrade_planner.library.proposing import Proposal
from upgrade_planner.library.trait_matching import TraitMatch

PROPOSALS_SHOWN = 5
SHOWN_IN_FULL = 3
WIDTH = 78


def print_proposals(found: Sequence[Proposal], english: str = "") -> None:
    """The nearest ones in the English asked for, what matches and what does not; ties are named."""
    out = console()
    best = found[0].match
    out.print()
    out.print(said(_headline(found), english))
    for number, proposal in enumerate(found[:PROPOSALS_SHOWN], start=1):
        out.print()
        out.print(_title(number, proposal, found), soft_wrap=True)
        for text in _details(proposal, in_full=number <= SHOWN_IN_FULL):
            out.print(
                fill(
                    said(text, english), WIDTH, initial_indent="     ", subsequent_indent="       "
                )
            )
    rest = sum(one.match.points == best.points for one in found[PROPOSALS_SHOWN:])
    if rest:
        out.print(f"{rest} more are as near as the first.")
    out.print()


def _headline(found: Sequence[Proposal]) -> str:
    best = found[0].match
    if not best.possible:
        return "Nothing is known that could be compared. The shipped configurations, by name:"
    if best.points == best.possible:
        return "All that you told is as in the first of these:"
    grave = [d.title for d in best.differing if d.name in ("voltage", "ground")]
    if grave:
        return (
            "None of these is like your vehicle: even the nearest has another "
            f"{' and another '.join(grave)}."
        )
    return "The nearest, and what is not as on your vehicle:"


def _title(number: int, proposal: Proposal, found: Sequence[Proposal]) -> str:
    match = proposal.match
    first = next(i for i, one in enumerate(found, start=1) if one.match.points == match.points)
    tie = f", as near as {first}" if first < number else ""
    points = f" ({points_words(match)}{tie})" if match.possible else ""
    what = " with other shipped systems" if proposal.is_combination else ""
    return f"  {number}  {proposal.name}{what}{points}"


def points_words(match: TraitMatch) -> str:
    """`47.2 of 54 points`."""
    return f"{match.points:.3g} of {match.possible:.3g} points"


def _details(proposal: Proposal, *, in_full: bool) -> list[str]:
    lines = [proposal.title]
    if proposal.is_altered:
        lines.append("holds alterations that were found in one vehicle; hardly those of yours")
    if proposal.is_combination:
        lines.append("systems: " + ", ".join(proposal.systems.values()))
    if proposal.match.same:
        lines.append("as yours: " + ", ".join(proposal.match.same))
    differing = proposal.match.differing
    if not in_full:
        titles = ", ".join(one.title for one in differing)
        return [*lines, *([f"not as yours: {titles}"] if titles else [])]
    lines += [
        f"not as yours: {one.title}: yours {one.wanted}, there {one.found or 'not stated'}"
        for one in differing
    ]
    return lines
