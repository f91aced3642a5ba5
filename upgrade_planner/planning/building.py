"""Turns a comparison into operations with places, dependencies and reasons; in no order yet."""

from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property

from upgrade_planner.attributes import frozen
from upgrade_planner.comparison.part_changes import (
    PartAdjusted,
    PartComes,
    PartConverted,
    PartExchanged,
    PartFitted,
    PartLeaves,
    PartRebuilt,
)
from upgrade_planner.comparison.results import Comparison
from upgrade_planner.comparison.wire_changes import (
    Added,
    CappedOff,
    Kept,
    Moved,
    Refitted,
    Rejoined,
    Removed,
    Resized,
    stays_at,
)
from upgrade_planner.configuration.kinds import Capability, Family
from upgrade_planner.configuration.model import (
    Joint,
    TerminalRef,
    Wire,
)
from upgrade_planner.electrical.batteries import Cable, Posts, cables_of, posts_of
from upgrade_planner.planning import caring
from upgrade_planner.planning.altering import converted, fuses_changed, rebuilding, wires_off
from upgrade_planner.planning.battery_order import Cables, link_ids
from upgrade_planner.planning.feeds import feed_end, load_end, steps_from_battery, target_ends
from upgrade_planner.planning.joints.meeting import bearer_after, bearer_before
from upgrade_planner.planning.operations import (
    AttachEnd,
    CapWire,
    ConductorKey,
    Dependency,
    DetachEnd,
    FitPart,
    LeadAcross,
    Operation,
    Phase,
    RemovePart,
    RemoveWire,
    RunWire,
    Side,
    UncapWire,
    Wait,
)


def wire_and_part_operations(comparison: Comparison) -> tuple[Operation, ...]:
    """Every operation on a wire or a part that leads from before to after."""
    builder = _Builder(
        comparison=comparison,
        before_steps=steps_from_battery(comparison.before),
        after_steps=steps_from_battery(comparison.after),
        before_posts=posts_of(comparison.before),
        after_posts=posts_of(comparison.after),
        before_cables=cables_of(comparison.before),
        after_cables=cables_of(comparison.after),
    )
    operations = [*builder.wires()]
    return (*operations, *builder.parts(operations), *caring.care_besides_wires(comparison))


@frozen(kw_only=True, eq=False)
class _Builder:
    comparison: Comparison
    before_steps: Mapping[TerminalRef, int]
    after_steps: Mapping[TerminalRef, int]
    before_posts: Posts
    after_posts: Posts
    before_cables: Cables
    after_cables: Cables

    # Wires ------------------------------------------------------------------------------------

    def wires(self) -> Iterator[Operation]:
        for change in self.comparison.wires:
            match change:
                case Kept() | Moved():
                    yield from self._stays_in_use(change)
                case Removed():
                    yield from self._taken_out(change)
                case CappedOff():
                    yield from self._capped(change)
                case Resized():
                    yield from self._old_gives_way(change)
                    yield from self._new(change)
                case Added() | Refitted():
                    yield from self._new(change)
                case Rejoined():
                    yield from self._rejoined(change)

    def _old_gives_way(self, change: Resized) -> Iterator[Operation]:
        return self._capped(change) if change.old_stays else self._taken_out(change)

    def _stays_in_use(self, change: Kept | Moved) -> Iterator[Operation]:
        old, new = change.before, change.after
        key = ConductorKey(Side.OLD, old.id)
        leads: list[Dependency] = []
        targets = target_ends(old, new)
        opened = caring.opened_ends(old, self.comparison.before)
        disturbed = [
            end
            for end in old.ends
            if end != targets[end]
            or end in opened
            or self._is_disturbed(end)
            or self._is_at_battery(old, new, end)
            or self._changes_clamp(old, end, new, end)
        ]
        for end in disturbed:
            yield self._detach(key, old, end)
        if any(targets[end] != end for end in disturbed):
            lead = self._lead_across(key, old, new, targets)
            leads = [Dependency(lead.id, Wait.MUST_REACH)]
            yield lead
        for step in caring.care_for_wire(key, old, *self._making(new), leads):
            leads.append(Dependency(step.id, Wait.LOOKED_AFTER))
            yield step
        for end in disturbed:
            remade = (
                end in caring.cut_ends(old, opened)
                or self._needs_new_terminal(end, targets[end])
                or self._changes_clamp(old, end, new, targets[end])
            )
            yield self._attach(key, new, targets[end], remade, leads)

    def _making(self, wire: Wire) -> tuple[Phase, str]:
        """When and where something is done along a wire that serves after the work."""
        load = load_end(wire, self.after_steps, self.comparison.after)
        return self._making_phase(wire), self._place_after(load)

    def _is_disturbed(self, end: TerminalRef) -> bool:
        """A kept end must come off if its part leaves, or if its splice is made anew."""
        part = self.comparison.part_by_role[end.role]
        return isinstance(part, PartLeaves) or self._is_remade_splice(end)

    def _changes_clamp(
        self, old: Wire, old_end: TerminalRef, new: Wire, new_end: TerminalRef
    ) -> bool:
        """True if a wire that had a ring at a battery post gets the clamp, or the reverse."""
        if old_end not in self.before_posts or new_end not in self.after_posts:
            return False
        had = bearer_before(old_end, self.comparison) == old.id
        return had != (bearer_after(new_end, self.comparison) == new.id)

    def _is_at_battery(self, old: Wire, new: Wire, end: TerminalRef) -> bool:
        """A kept end at a post that comes off and goes on all the same."""
        at = {self.before_cables.get((old.id, end)), self.after_cables.get((new.id, end))}
        return Cable.GROUNDED in at or (Cable.LIVE in at and self._undoes_links)

    @cached_property
    def _undoes_links(self) -> bool:
        """True if batteries are parted or joined; then the vehicle hangs on neither meanwhile."""
        kept = [
            change
            for change in self.comparison.wires
            if isinstance(change, Kept) and not any(map(self._is_disturbed, change.before.ends))
        ]
        parted = link_ids(self.before_cables) - {change.before.id for change in kept}
        joined = link_ids(self.after_cables) - {change.after.id for change in kept}
        return bool(parted | joined)

    def _is_remade_splice(self, end: TerminalRef) -> bool:
        part = self.comparison.part_by_role[end.role].part
        return part.can(Capability.MADE_OF_WIRE) and any(
            end in wire.ends and not stays_at(change, end)
            for change in self.comparison.wires
            for wire in change.wires
        )

    def _needs_new_terminal(self, old_end: TerminalRef, new_end: TerminalRef) -> bool:
        old = self.comparison.before.component(old_end.role).terminal(old_end.terminal)
        new = self.comparison.after.component(new_end.role).terminal(new_end.terminal)
        assert old is not None
        assert new is not None
        return old.connection != new.connection or new.connection.joint is Joint.SPLICE

    def _taken_out(self, change: Removed | Resized) -> Iterator[Operation]:
        old = change.before
        key = ConductorKey(Side.OLD, old.id)
        at_post = [end for end in old.ends if end in self.before_posts]
        off = [self._detach(key, old, end) for end in at_post]
        yield from off
        yield RemoveWire(
            id=f"remove-wire:{old.id}",
            phase=Phase.TAKE_OUT,
            place=self._place_before(load_end(old, self.before_steps, self.comparison.before)),
            after=tuple(Dependency(o.id, Wait.BATTERY_END_OFF) for o in off),
            conductor=key,
            wire=old,
            for_resize=isinstance(change, Resized),
        )

    def _capped(self, change: CappedOff | Resized) -> Iterator[Operation]:
        old = change.before
        key = ConductorKey(Side.OLD, old.id)
        off = [self._detach(key, old, end) for end in old.ends]
        yield from off
        yield CapWire(
            id=f"cap-wire:{old.id}",
            phase=Phase.CAP_OFF,
            place=self._place_before(load_end(old, self.before_steps, self.comparison.before)),
            after=tuple(Dependency(o.id, Wait.BOTH_ENDS_OFF) for o in off),
            conductor=key,
            wire=old,
            for_resize=isinstance(change, Resized),
        )

    def _new(self, change: Added | Refitted | Resized) -> Iterator[Operation]:
        new = change.after
        key = ConductorKey(Side.NEW, new.id)
        after = self.comparison.after
        feed = feed_end(new, self.after_steps, after)
        load = new.other_end(feed)
        old = change.before if isinstance(change, Resized) else None
        waits: tuple[Dependency, ...] = ()
        if old is not None and change.capped_wire is None:
            waits = (Dependency(f"remove-wire:{old.id}", Wait.OLD_WIRE_OUT),)
        refit = isinstance(change, Refitted)
        run = RunWire(
            id=f"run-wire:{new.id}",
            phase=self._making_phase(new),
            place=self._place_after(load),
            after=waits,
            conductor=key,
            wire=new,
            replaces=old,
            from_bag=refit,
        )
        laid = [Dependency(run.id, Wait.WIRE_LAID)]
        yield run
        for step in caring.care_for_wire(key, new, *self._making(new), laid) if refit else ():
            laid.append(Dependency(step.id, Wait.LOOKED_AFTER))
            yield step
        anew = new.ends if not refit else caring.cut_ends(new, new.ends)
        first = self._attach(key, new, load, load in anew or self._is_splice(load), laid)
        yield first
        remade = feed in anew or self._is_splice(feed)
        joined = Dependency(first.id, Wait.LOAD_END_FIRST)
        yield self._attach(key, new, feed, remade, (*laid, joined), is_feed=True)

    def _is_splice(self, end: TerminalRef) -> bool:
        """A splice is crimped anew, whatever the wire had on its end."""
        return self.comparison.after.component(end.role).can(Capability.MADE_OF_WIRE)

    def _rejoined(self, change: Rejoined) -> Iterator[Operation]:
        """A dead wire in its loom serves again; its caps go and take the old terminals along."""
        wire = change.after
        key = ConductorKey(Side.CAPPED, wire.id)
        after = self.comparison.after
        feed = feed_end(wire, self.after_steps, after)
        load = wire.other_end(feed)
        uncap = UncapWire(
            id=f"uncap-wire:{wire.id}",
            phase=self._making_phase(wire),
            place=self._place_after(load),
            conductor=key,
            wire=wire,
        )
        bare = Dependency(uncap.id, Wait.CAPS_OFF)
        first = self._attach(key, wire, load, True, (bare,))
        joined = Dependency(first.id, Wait.LOAD_END_FIRST)
        yield uncap
        yield first
        yield self._attach(key, wire, feed, True, (bare, joined), is_feed=True)

    def _detach(self, key: ConductorKey, wire: Wire, end: TerminalRef) -> DetachEnd:
        return DetachEnd(
            id=f"detach:{key.side}:{wire.id}:{end}",
            phase=Phase.MAKE_SAFE if end in self.before_posts else Phase.TAKE_OUT,
            place=self._place_before(end),
            conductor=key,
            wire=wire,
            end=end,
        )

    def _attach(
        self,
        key: ConductorKey,
        wire: Wire,
        end: TerminalRef,
        remade: bool,
        after: Sequence[Dependency],
        *,
        is_feed: bool = False,
    ) -> AttachEnd:
        waits = list(after)
        if (made := self._made_by(end.role)) is not None:
            waits.append(Dependency(made, Wait.PART_IN_PLACE))
        return AttachEnd(
            id=f"attach:{key.side}:{wire.id}:{end}",
            phase=Phase.RECONNECT if end in self.after_posts else self._making_phase(wire),
            place=self._place_after(end),
            after=tuple(waits),
            conductor=key,
            wire=wire,
            end=end,
            remade=remade,
            is_feed=is_feed,
        )

    def _lead_across(
        self,
        key: ConductorKey,
        old: Wire,
        new: Wire,
        targets: Mapping[TerminalRef, TerminalRef],
    ) -> LeadAcross:
        moved = next(end for end in old.ends if targets[end] != end)
        return LeadAcross(
            id=f"lead-across:{old.id}",
            phase=self._making_phase(new),
            place=self._place_after(targets[moved]),
            conductor=key,
            wire=old,
            becomes=new,
        )

    def _making_phase(self, wire: Wire) -> Phase:
        parts = [self.comparison.after.component(ref.role) for ref in wire.ends]
        is_ground = any(part.family is Family.GROUND_POINT for part in parts) or any(
            end in self.after_posts.grounded for end in wire.ends
        )
        return Phase.GROUNDS if is_ground or wire.circuit == "ground" else Phase.RUN_WIRES

    # Parts ------------------------------------------------------------------------------------

    def parts(self, wire_operations: list[Operation]) -> Iterator[Operation]:
        for change in self.comparison.parts:
            if change.part.can(Capability.MADE_OF_WIRE):
                continue  # a splice is made and unmade by joining its wires
            if isinstance(change, PartAdjusted):
                yield fuses_changed(change)
            if isinstance(change, PartRebuilt):
                yield rebuilding(change, wires_off(change.role, wire_operations))
            if isinstance(change, PartConverted):
                for treatment in change.treatments:
                    if treatment.is_work:
                        yield converted(change.part, treatment)
            if isinstance(change, PartLeaves):
                yield self._removed(change, wire_operations)
            if isinstance(change, PartComes):
                yield self._fitted(change)

    def _removed(self, change: PartLeaves, wire_operations: list[Operation]) -> RemovePart:
        part = change.before
        return RemovePart(
            id=f"remove-part:{part.role}",
            phase=Phase.TAKE_OUT,
            place=part.place,
            after=wires_off(part.role, wire_operations),
            part=part,
        )

    def _fitted(self, change: PartComes) -> FitPart:
        part = change.after
        waits: tuple[Dependency, ...] = ()
        if isinstance(change, PartLeaves):
            waits = (Dependency(f"remove-part:{part.role}", Wait.OLD_PART_THERE),)
        return FitPart(
            id=f"fit-part:{part.role}",
            phase=Phase.RECONNECT if part.family is Family.BATTERY else Phase.FIT_PARTS,
            place=part.place,
            after=waits,
            part=part,
            from_bag=isinstance(change, PartFitted | PartExchanged) and change.from_bag,
        )

    # Places -----------------------------------------------------------------------------------

    def _made_by(self, role: str) -> str | None:
        """The step that must be done before a wire finds its terminal at a part."""
        change = self.comparison.part_by_role[role]
        if isinstance(change, PartRebuilt):
            return f"rebuild-part:{role}"
        comes = isinstance(change, PartComes) and not change.part.can(Capability.MADE_OF_WIRE)
        return f"fit-part:{role}" if comes else None

    def _place_before(self, end: TerminalRef) -> str:
        return self.comparison.before.component(end.role).place

    def _place_after(self, end: TerminalRef) -> str:
        return self.comparison.after.component(end.role).place
