"""Which old wire belongs to which wanted one, round by round, whatever the wires are called."""

from attrs import evolve
from every_case import every_case
from pair_facts import loaded

from upgrade_planner.comparison.pairing import Bond, cheapest_pairs, pair_wires
from upgrade_planner.configuration.model import Conductor, TerminalRef
from upgrade_planner.configuration.values.sizes import parse_wire_size

VAN = loaded("van_original_ballast")
SALOON = loaded("saloon_original")


def with_wires(configuration, *wires, without=()):
    """A configuration with wires changed, added or taken out; new ones run as its first does."""
    kept = {wire.id: wire for wire in configuration.wires if wire.id not in without}
    kept |= {wire.id: wire for wire in wires}
    spare = configuration.runs[configuration.wires[0].id]
    runs = {name: configuration.runs.get(name, spare) for name in kept}
    return evolve(configuration, wires=tuple(kept.values()), runs=runs)


def bonds(before, after):
    return {pair.after.id: (pair.before.id, pair.bond) for pair in pair_wires(before, after).pairs}


def test_every_wire_is_paired_with_itself():
    pairing = pair_wires(VAN, VAN)
    assert all(pair.before is pair.after for pair in pairing.pairs)
    assert (pairing.unused, pairing.missing) == ((), ())


def test_other_names_and_another_order_change_nothing():
    renamed = tuple(evolve(wire, id=f"x-{wire.id}") for wire in reversed(VAN.wires))
    runs = {f"x-{name}": run for name, run in VAN.runs.items()}
    found = bonds(VAN, evolve(VAN, wires=renamed, runs=runs))
    assert found == {f"x-{wire.id}": (wire.id, Bond.SAME_ENDS) for wire in VAN.wires}


def test_wire_written_from_its_other_end_is_the_same_wire():
    wire = VAN.wire_by_id["charge-output"]
    turned = evolve(wire, start=wire.end, end=wire.start)
    assert bonds(VAN, with_wires(VAN, turned))[wire.id] == (wire.id, Bond.SAME_ENDS)


def test_of_two_parallel_wires_the_more_alike_belong_together():
    feed = VAN.wire_by_id["key-feed"]
    thick = evolve(feed, id="b", size=parse_wire_size("8 SAE"))
    before = with_wires(VAN, evolve(feed, id="a"), thick, without=["key-feed"])
    after = with_wires(VAN, evolve(thick, id="one"), evolve(feed, id="two"), without=["key-feed"])
    found = bonds(before, after)
    assert (found["one"][0], found["two"][0]) == ("b", "a")


def test_resistance_wire_never_becomes_plain_copper():
    feed = VAN.wire_by_id["key-feed"]
    ohms = evolve(feed, conductor=Conductor.RESISTANCE, resistance_ohm=1.4)
    pairing = pair_wires(with_wires(VAN, ohms), VAN)
    assert [wire.id for wire in pairing.unused] == ["key-feed"]
    assert [wire.id for wire in pairing.missing] == ["key-feed"]


class TestOneCommonEnd:
    """The tachometer's wire goes to another terminal of the coil or distributor."""

    wire = VAN.wire_by_id["tachometer"]

    def elsewhere(self, *, longer_m=0.0, **changes):
        end = TerminalRef("distributor", "points")
        other = next(ref for ref in self.wire.ends if ref.role != "tachometer")
        ends = {"start": end} if self.wire.start == other else {"end": end}
        new = evolve(self.wire, id="new", **ends, **changes)
        made = with_wires(VAN, new, without=["tachometer"])
        run = VAN.runs["tachometer"]
        run = evolve(run, length_m=run.length_m + longer_m)
        return evolve(made, runs={**made.runs, "new": run})

    def test_conductor_that_is_long_and_good_enough_moves(self):
        assert bonds(VAN, self.elsewhere())["new"] == ("tachometer", Bond.ONE_END)

    def test_thinner_one_does_not(self):
        after = self.elsewhere(size=parse_wire_size("8 SAE"))
        assert "new" not in bonds(VAN, after)

    def test_conductor_of_another_circuit_is_never_used_again(self):
        assert "new" not in bonds(VAN, self.elsewhere(circuit="lighting"))

    def test_short_one_does_not(self):
        assert "new" not in bonds(VAN, self.elsewhere(longer_m=0.5))


def test_cables_change_posts_where_the_ground_changes_over():
    found = bonds(SALOON, loaded("saloon_negative_dynamo"))
    assert Bond.TURNED in {bond for _, bond in found.values()}
    assert found["battery-ground"][1] is Bond.TURNED


class TestCheapest:
    old, new = VAN.wires[:3], VAN.wires[:3]

    def test_as_many_pairs_as_possible_before_cheap_ones(self):
        # the cheap pair (0, 0) would leave nothing for the others
        a, b, c = (wire.id for wire in self.old)
        prices = {(a, a): 1, (a, b): 50, (b, a): 50, (c, c): 1}
        found = cheapest_pairs(
            self.old, self.new, lambda one, other: prices.get((one.id, other.id))
        )
        assert {(one.id, other.id) for one, other in found} == {(a, b), (b, a), (c, c)}

    @every_case("count", [0, 1])
    def test_none_or_one_pair_needs_no_search(self, count):
        allowed = [(self.old[0].id, self.new[1].id)][:count]
        found = cheapest_pairs(
            self.old, self.new, lambda o, n: 1 if (o.id, n.id) in allowed else None
        )
        assert [(one.id, other.id) for one, other in found] == allowed
