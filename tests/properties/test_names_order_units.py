"""Names, order of wires in files and units of input do not change the plan."""

import copy

from generating import configuration_from, systems, vehicles
from hypothesis import given, settings
from hypothesis import strategies as st
from proving import facts

from upgrade_planner.planning.plan import plan_upgrade


def rewritten(data, random, prefix):
    """The same file: wires renamed and shuffled, routes shuffled, lengths in other units."""
    data = copy.deepcopy(data)
    wires = data["wiring"]["wires"]
    random.shuffle(wires)
    for number, wire in enumerate(wires):
        wire["id"] = f"{prefix}{number}"
        if "length" in wire:
            wire["length"] = in_metres(wire["length"])
    for route in data.get("route", []):
        route["length"] = in_metres(route["length"])
    for table in ("route", "place", "component"):
        if table in data:
            random.shuffle(data[table])
    return data


def in_metres(text):
    return f"{int(text.removesuffix(' mm')) / 1000} m"


def configuration(vehicle, system, name):
    header = {"title": name, "summary": name, "vehicle": "generated"}
    return configuration_from(vehicle, {"ignition": system}, {"configuration": header}, name)


def lines(plan):
    """What is done in which order, without wire names."""
    return [(op.phase, type(op).__name__, op.place) for op in plan.operations]


@given(st.data(), st.randoms(use_true_random=False))
@settings(max_examples=50)
def test_renamed_and_shuffled_files_give_the_same_dispositions(data, random):
    vehicle = data.draw(vehicles())
    one, other = data.draw(systems(vehicle, "a")), data.draw(systems(vehicle, "b"))
    plain = plan_upgrade(configuration(vehicle, one, "a"), configuration(vehicle, other, "b"))
    vehicle_again = rewritten(vehicle, random, "w")
    again = plan_upgrade(
        configuration(vehicle_again, rewritten(one, random, "x"), "a"),
        configuration(vehicle_again, rewritten(other, random, "y"), "b"),
    )
    assert facts(again.comparison) == facts(plain.comparison)
    assert sorted(lines(again)) == sorted(lines(plain))


def test_order_and_units_alone_leave_the_check_code_as_it_is():
    import random

    vehicle = {
        "vehicle": {
            "title": "v",
            "summary": "v",
            "voltage": "12 V",
            "ground": "negative",
            "size_system": "SAE",
            "slots": ["ignition"],
        },
        "place": [
            {"id": "a", "name": "a", "space": "engine"},
            {"id": "b", "name": "b", "space": "cabin"},
        ],
        "route": [
            {"from": "a", "to": "b", "length": "700 mm", "covering": "exposed", "ambient": "40 °C"}
        ],
        "component": [
            {
                "role": "battery",
                "kind": "battery",
                "name": "battery",
                "place": "a",
                "terminals": [
                    {"name": "positive", "label": "+", "connection": "post positive"},
                    {"name": "negative", "label": "−", "connection": "post negative"},
                ],
                "ratings": {"emf": "12.6 V", "internal_resistance": "10 mohm"},
            },
            {
                "role": "horn",
                "kind": "motor",
                "name": "horn",
                "place": "b",
                "terminals": [{"name": "supply", "label": "1", "connection": "stud M5"}],
                "ratings": {"running_current": "5 A"},
            },
        ],
        "wiring": {
            "wires": [
                {
                    "id": "w0",
                    "circuit": "horn",
                    "from": "battery.live",
                    "to": "horn.supply",
                    "size": "12 SAE",
                    "colour": "RD",
                    "insulation": "GPT",
                    "length": "900 mm",
                }
            ]
        },
    }
    system = {"system": {"name": "s", "slot": "ignition", "summary": "s"}}
    again = rewritten(vehicle, random.Random(1), "w")
    assert again != vehicle
    first, second = configuration(vehicle, system, "a"), configuration(again, system, "a")
    assert first.digest == second.digest
