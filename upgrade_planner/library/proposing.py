"""Which shipped configuration, or which combination of shipped systems, is most like a vehicle."""

from collections.abc import Mapping, Sequence

from attrs import evolve

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.model import Configuration
from upgrade_planner.errors import PlannerError
from upgrade_planner.library.collected import Library, Say, Shipped
from upgrade_planner.library.fitting import read_system, systems_for, trial
from upgrade_planner.library.pairs import ready_pairs
from upgrade_planner.library.trait_matching import TraitMatch, Wanted, is_other_body, match_of
from upgrade_planner.library.traits import cylinders_in, subjects, traits_of

VEHICLES_RECOMBINED = 3
"""Vehicles, the most alike first, whose systems are recombined; our assumption."""

CLEAR_GAIN = 2.0
"""Points by which a combination must be better to stand first; our assumption: more than the
weight of fuses or connector alone."""

ALTERED_MALUS = 3.0
"""Points that a configuration loses in the order for the alterations that somebody found in it:
they are hardly those of another vehicle. Our assumption."""

OTHER_BODY_MALUS = 10.0
"""Points that a farm machine or a boat loses in the order for a road vehicle, and the reverse:
where things sit, what covers them and which rules hold are other things. Our assumption."""

Overrides = Mapping[str, Mapping[str, object]]


@frozen(kw_only=True, eq=False)
class Proposal:
    """
    Something to start from.

    Attributes:
        name: Name of the shipped configuration, or of the vehicle if it is a combination.
        is_combination: True if it is a vehicle with systems, and no shipped configuration.
        base: Shipped configuration whose systems were exchanged, of a combination; else its name.
        systems: System by slot.
        overrides: Ratings that a combination needs, by role.
        is_upgraded: A ready upgrade leads to its base.
    """

    name: str
    title: str
    is_combination: bool
    base: str
    systems: Mapping[str, str]
    overrides: Overrides
    configuration: Configuration
    match: TraitMatch
    is_upgraded: bool = False

    @property
    def is_altered(self) -> bool:
        """True if it holds alterations that somebody found in one vehicle."""
        wiring = self.configuration
        is_wire = any(wire.as_found for wire in wiring.wires)
        return is_wire or any(part.as_found for part in wiring.components)


def proposals(wanted: Wanted, library: Library, say: Say = lambda _: None) -> tuple[Proposal, ...]:
    """
    All shipped configurations, the most alike first; a better combination among the first two.

    A combination has not the sizes and guards that a shipped configuration was given, so it stands
    before the nearest one only if it is clearly better. One with as-found alterations, or of
    another sort of vehicle altogether, stands behind those that come nearly as near. Of equal ones
    those stand first that no ready upgrade leads to: what was never upgraded is as it was built.
    """
    upgraded = {pair.after for pair in ready_pairs()}
    shipped = [
        evolve(_shipped(one, wanted), is_upgraded=one.name in upgraded) for one in library.shipped
    ]
    shipped.sort(key=lambda one: _order(one, wanted))
    combined = _combination(wanted, shipped, say)
    gain = _rank(combined[0], wanted) - _rank(shipped[0], wanted) if combined else 0.0
    first = 0 if gain > CLEAR_GAIN else 1
    return (*shipped[:first], *combined, *shipped[first:])


def _order(proposal: Proposal, wanted: Wanted) -> tuple[float, bool, str]:
    return (-_rank(proposal, wanted), proposal.is_upgraded, proposal.name)


def _rank(proposal: Proposal, wanted: Wanted) -> float:
    """Points, less what speaks against starting from it."""
    body = proposal.configuration.vehicle.body
    is_other = "body" in wanted and is_other_body(wanted["body"][0], body)
    malus = ALTERED_MALUS if proposal.is_altered else 0.0
    return proposal.match.points - malus - (OTHER_BODY_MALUS if is_other else 0.0)


def _shipped(one: Shipped, wanted: Wanted) -> Proposal:
    return Proposal(
        name=one.name,
        title=one.configuration.title,
        is_combination=False,
        base=one.name,
        systems=one.configuration.systems,
        overrides={},
        configuration=one.configuration,
        match=match_of(wanted, one.traits),
    )


def _combination(wanted: Wanted, shipped: Sequence[Proposal], say: Say) -> tuple[Proposal, ...]:
    """The best combination, if it is nearer than every shipped configuration."""
    bases: dict[str, Proposal] = {}
    for proposal in shipped:
        bases.setdefault(proposal.configuration.vehicle.name, proposal)
    likely = sorted(bases.values(), key=lambda one: -_rank_without_systems(one, wanted))
    found = []
    for base in likely[:VEHICLES_RECOMBINED]:
        say(f"trying systems in {base.configuration.vehicle.name}")
        found += [made for made in (_recombined(base, wanted),) if made is not None]
    found = [made for made in found if _rank(made, wanted) > _rank(shipped[0], wanted)]
    return tuple(sorted(found, key=lambda one: _order(one, wanted))[:1])


def _rank_without_systems(proposal: Proposal, wanted: Wanted) -> float:
    """The rank by what no other system can give."""
    stays = {name: ids for name, ids in wanted.items() if not subjects()[name].slot}
    match = match_of(stays, traits_of(proposal.configuration))
    return _rank(evolve(proposal, match=match), stays)


def _recombined(base: Proposal, wanted: Wanted) -> Proposal | None:
    """The systems of a shipped configuration, slot by slot exchanged where that is more alike."""
    best = base
    for subject in subjects().values():
        if subject.slot in base.systems and subject.name in wanted:
            best = _with_best_system(best, subject.slot, wanted)
    return best if best.is_combination else None


def _with_best_system(base: Proposal, slot: str, wanted: Wanted) -> Proposal:
    best = base
    for system in systems_for(slot):
        made = _combined(base, {**base.systems, slot: system}, wanted)
        if made is not None and made.match.points > best.match.points:
            best = made
    return best


def _combined(base: Proposal, systems: Mapping[str, str], wanted: Wanted) -> Proposal | None:
    vehicle = base.configuration.vehicle
    overrides = _overrides(systems, wanted, vehicle.engine)
    try:
        configuration = trial(vehicle.name, systems, overrides).content
    except PlannerError:
        return None
    if configuration is None:
        return None
    return Proposal(
        name=vehicle.name,
        title=vehicle.title,
        is_combination=True,
        base=base.base,
        systems=dict(systems),
        overrides=overrides,
        configuration=configuration,
        match=match_of(wanted, traits_of(configuration)),
        is_upgraded=base.is_upgraded,
    )


def _overrides(systems: Mapping[str, str], wanted: Wanted, engine: str) -> Overrides:
    """The number of cylinders, where a system states another one."""
    cylinders = int(wanted["cylinders"][0]) if "cylinders" in wanted else cylinders_in(engine)
    if cylinders is None:
        return {}
    parts = (part for name in systems.values() for part in read_system(name)[1].component)
    return {
        part.role: {"cylinders": cylinders}
        for part in parts
        if part.ratings.get("cylinders", cylinders) != cylinders
    }
