"""Impossible steps are found out, so that a wrong plan cannot pass its proof."""

import pytest

from upgrade_planner.planning.operations import (
    AttachEnd,
    CapWire,
    ConductorKey,
    DetachEnd,
    FitPart,
    Phase,
    RemovePart,
    RemoveWire,
    Side,
)
from upgrade_planner.planning.simulation import ImpossibleStep, state_of


@pytest.fixture
def before(load):
    return load("van_original_resistance")


@pytest.fixture
def state(load, before):
    return state_of(before, load("van_upgraded"))


def key(wire_id):
    return ConductorKey(Side.OLD, wire_id)


def test_part_cannot_come_out_with_a_wire_on_it(before, state):
    step = RemovePart(id="x", phase=Phase.TAKE_OUT, place="", part=before.component("coil"))
    with pytest.raises(ImpossibleStep, match="still on it"):
        state.carry_out(step)


def test_part_cannot_be_fitted_twice(before, state):
    step = FitPart(id="x", phase=Phase.FIT_PARTS, place="", part=before.component("coil"))
    with pytest.raises(ImpossibleStep, match="taken"):
        state.carry_out(step)


def test_wire_cannot_be_capped_while_joined(before, state):
    wire = before.wire_by_id["start-bypass"]
    step = CapWire(id="x", phase=Phase.CAP_OFF, place="", conductor=key(wire.id), wire=wire)
    with pytest.raises(ImpossibleStep, match="joined"):
        state.carry_out(step)


def test_joined_end_cannot_be_joined_again(before, state):
    wire = before.wire_by_id["start-bypass"]
    step = AttachEnd(
        id="x",
        phase=Phase.RUN_WIRES,
        place="",
        conductor=key(wire.id),
        wire=wire,
        end=wire.start,
        remade=False,
    )
    with pytest.raises(ImpossibleStep, match="free"):
        state.carry_out(step)


def test_removed_wire_is_gone(before, state):
    wire = before.wire_by_id["field"]
    step = RemoveWire(id="x", phase=Phase.TAKE_OUT, place="", conductor=key(wire.id), wire=wire)
    state.carry_out(step)
    with pytest.raises(ImpossibleStep, match="not in the vehicle"):
        state.carry_out(step)


def test_detached_end_is_bare_until_capped(before, state):
    wire = before.wire_by_id["start-bypass"]
    assert state.bare_conductors() == ()
    for end in wire.ends:
        state.carry_out(
            DetachEnd(
                id="x", phase=Phase.TAKE_OUT, place="", conductor=key(wire.id), wire=wire, end=end
            )
        )
    assert state.bare_conductors() == (key(wire.id),)
    state.carry_out(
        CapWire(id="x", phase=Phase.CAP_OFF, place="", conductor=key(wire.id), wire=wire)
    )
    assert state.bare_conductors() == ()
