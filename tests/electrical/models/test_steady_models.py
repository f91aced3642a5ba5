"""Parts that are the same whatever state they are in."""

from pair_facts import loaded

from upgrade_planner.configuration.registry import kinds
from upgrade_planner.electrical.circuit import MODELS, STEADY
from upgrade_planner.electrical.models.context import Context
from upgrade_planner.electrical.states import OFF, STATES

CONFIGURATIONS = (
    "roadster_alternator",
    "van_coil_pack",
    "saloon_negative_alternator",
    "six_volt_tractor_original",
)
"""Together they have a part of each of these models."""


def test_parts_said_to_be_the_same_in_every_state_are():
    parts = {part.kind: (part, loaded(n)) for n in CONFIGURATIONS for part in loaded(n).components}
    assert {MODELS[kinds()[kind].model] for kind in parts} >= STEADY
    assert [kind for kind, found in parts.items() if is_steady(kind) and differs(*found)] == []


def is_steady(kind):
    return MODELS[kinds()[kind].model] in STEADY


def differs(part, there):
    model, roles = MODELS[kinds()[part.kind].model], frozenset(there.component_by_role)
    states = [(state, operated) for state in STATES for operated in (frozenset(), roles)]
    contexts = (Context(configuration=there, state=s, operated=o) for s, o in states)
    rest = model(part, Context(configuration=there, state=OFF))
    return any(model(part, context) != rest for context in contexts)
