"""Generated configurations: random vehicles, systems and as-found changes, made in memory."""

from functools import cache, lru_cache
from pathlib import Path

from hypothesis import strategies as st

from upgrade_planner.configuration.composing.assembling import Parts, composed
from upgrade_planner.configuration.composing.this import This
from upgrade_planner.configuration.files.toml_files import TomlFile
from upgrade_planner.configuration.structuring.entries import (
    ConfigurationFile,
    SystemFile,
    VehicleFile,
)
from upgrade_planner.configuration.structuring.hooks import structured

SIZES = ("18 SAE", "14 SAE", "12 SAE", "10 SAE", "8 SAE", "2.5 mm²", "4 mm²")
COLOURS = ("RD", "BK", "BN/WH", "GN", "YE/BU")
INSULATIONS = ("GPT", "GXL", "PVC", "COTTON")
CIRCUITS = ("ignition feed", "charge output", "lamps", "start bypass", "ground", "sensing")
COVERINGS = ("exposed", "sleeve", "taped loom")
CONNECTIONS = ("stud M6", "blade 6.3 mm", "stud No. 10", "bullet 4 mm")


one_of = lru_cache(2000)(st.sampled_from)
"""As `sampled_from`, of a tuple; a strategy is looked through once, not each time it is asked."""

numbers = cache(st.integers)

EITHER = st.booleans()


def entry(cls, data, name):
    """The entry of a file that exists only as data; faults are a mistake of the generator."""
    made = structured(cls, TomlFile(name, Path(name), "", data))
    assert not made.faults, made.faults
    return made.content


def configuration_from(vehicle, systems, configuration, name="generated"):
    """A configuration from the data of its files."""
    parts = Parts(
        name=name,
        chain=((name, entry(ConfigurationFile, configuration, name)),),
        vehicle_name="generated_vehicle",
        vehicle_file="vehicle",
        vehicle=_entry_of(This(vehicle)),
        systems={
            slot: (f"{slot}_system", f"{slot}_file", entry(SystemFile, data, f"{slot}_file"))
            for slot, data in systems.items()
        },
    )
    made = composed(parts)
    assert made.content is not None, made.faults
    return made.content


@lru_cache(10)
def _entry_of(vehicle):
    """Of vehicle data that stays as it is: a vehicle has several configurations."""
    return entry(VehicleFile, vehicle.value, "vehicle")


@st.composite
def vehicles(draw):
    """Vehicle data: places on a tree with extra routes, battery, grounds, junctions, loads."""
    count = draw(numbers(2, 5))
    places = [
        {"id": f"place_{i}", "name": f"place {i}", "space": "engine", "metal": "engine", "walk": i}
        for i in range(count)
    ]
    routes = [
        _route(draw, f"place_{draw(numbers(0, i - 1))}", f"place_{i}") for i in range(1, count)
    ]
    for _ in range(draw(numbers(0, 2))):
        a, b = draw(numbers(0, count - 1)), draw(numbers(0, count - 1))
        if a != b:
            routes.append(_route(draw, f"place_{a}", f"place_{b}"))
    components = [
        _part(draw, "battery", "battery", ("positive", "negative"), count),
        _part(draw, "ground", "ground_point", ("stud",), count),
        _part(draw, "main_junction", "junction", ("stud",), count),
        _part(draw, "bulkhead", "connector", (), count),
    ]
    components += [
        _part(draw, f"motor_{i}", "motor", ("supply", "second"), count)
        for i in range(draw(numbers(1, 3)))
    ]
    return {
        "vehicle": {
            "title": "Generated",
            "summary": "generated",
            "voltage": "12 V",
            "ground": draw(one_of(("negative", "positive"))),
            "size_system": "SAE",
            "slots": ["ignition"],
        },
        "place": places,
        "route": routes,
        "component": components,
        "wiring": {"wires": draw(wire_lists("v", components, least=2, most=8))},
    }


def _route(draw, start, end):
    route = {
        "from": start,
        "to": end,
        "length": f"{draw(numbers(1, 40)) * 50} mm",
        "covering": draw(one_of(COVERINGS)),
        "ambient": "50 °C",
        "loom": draw(one_of(("", "engine loom", "dash loom"))),
    }
    if draw(EITHER):
        route["through"] = "bulkhead"
    return route


_RATINGS = {
    "battery": {"emf": "12.6 V", "internal_resistance": "10 mohm"},
    "motor": {"running_current": "5 A"},
    "switch": {"positions": {"off": [], "on": [["in", "out"]]}},
}


def _part(draw, role, kind, terminals, places):
    ratings = dict(_RATINGS.get(kind, {}))
    if kind == "connector":
        cavities = draw(numbers(1, 6))
        ratings = {"cavities": cavities, "cavity_blade": "6.3 mm"}
    if kind == "motor":
        ratings["running_current"] = draw(one_of(("5 A", "8 A")))
    joint = "splice" if kind == "splice" else None
    return {
        "role": role,
        "kind": kind,
        "name": f"{role}, made up",
        "place": f"place_{draw(numbers(0, places - 1))}",
        "terminals": [
            {
                "name": name,
                "label": name[:1].upper(),
                "connection": joint or draw(one_of(CONNECTIONS)),
            }
            for name in terminals
        ],
        "ratings": ratings,
    }


@st.composite
def wire_lists(draw, prefix, components, *, least=0, most=5):
    """Wires between random terminals of the given parts; parallel wires may occur."""
    ends = tuple(f"{part['role']}.{t['name']}" for part in components for t in part["terminals"])
    wires = []
    for number in range(draw(numbers(least, most))):
        start = draw(one_of(ends))
        end = draw(one_of(tuple(e for e in ends if e != start)))
        wires.append(_wire(draw, f"{prefix}{number}", start, end))
    return wires


def _wire(draw, name, start, end):
    wire = {
        "id": name,
        "circuit": draw(one_of(CIRCUITS)),
        "from": start,
        "to": end,
        "size": draw(one_of(SIZES)),
        "colour": draw(one_of(COLOURS)),
        "insulation": draw(one_of(INSULATIONS)),
    }
    kind = draw(numbers(0, 9))
    if kind == 0:
        wire |= {"conductor": "resistance wire", "resistance": "1.35 ohm"}
    elif kind == 1:
        wire |= {"conductor": "fusible link", "insulation": "LINK", "length": "180 mm"}
    elif kind == 2:
        wire["length"] = f"{draw(numbers(1, 30)) * 100} mm"
    return wire


@st.composite
def systems(draw, vehicle, prefix):
    """System data: its own switch, motor or splice, joined to the vehicle's parts."""
    count = len(vehicle["place"])
    own = [_part(draw, "unit", draw(one_of(("motor", "switch"))), ("in", "out"), count)]
    if draw(EITHER):
        own.append(_part(draw, "extra", "motor", ("supply",), count))
    if draw(EITHER):
        own.append(_part(draw, "joint", "splice", ("joint",), count))
    joined = [part for part in vehicle["component"] if part["terminals"]] + own
    return {
        "system": {"name": f"system {prefix}", "slot": "ignition", "summary": "generated"},
        "component": own,
        "wiring": {"wires": draw(wire_lists(prefix, joined, least=1, most=7))},
    }


@st.composite
def as_found(draw, vehicle):
    """As-found changes on wires of the vehicle."""
    ids = tuple(wire["id"] for wire in vehicle["wiring"]["wires"])
    removed = draw(st.lists(one_of(ids), unique=True, max_size=1))
    changed = [
        {"id": name, "size": draw(one_of(SIZES)), "colour": draw(one_of(COLOURS))}
        for name in draw(st.lists(one_of(ids), unique=True, max_size=2))
        if name not in removed
    ]
    joined = [part for part in vehicle["component"] if part["terminals"]]
    return {
        "remove_wires": removed,
        "change_wires": changed,
        "add_wires": draw(wire_lists("found", joined, most=2)),
    }


@st.composite
def pairs(draw):
    """Two configurations of one generated vehicle."""
    vehicle = draw(vehicles())
    sides = []
    for prefix in ("a", "b"):
        system = draw(systems(vehicle, prefix))
        header = {"title": prefix, "summary": prefix, "vehicle": "generated"}
        if prefix == "b" and draw(numbers(0, 3)) == 0:  # a job that converts the vehicle
            header["ground"] = draw(one_of(("negative", "positive")))
            header["voltage"] = draw(one_of(("6 V", "12 V")))
        configuration = {"configuration": header, "as_found": draw(as_found(vehicle))}
        sides.append(configuration_from(vehicle, {"ignition": system}, configuration, prefix))
    return tuple(sides)


LAYOUTS = {
    "in series": {
        "battery-ground": ("battery_second.grounded", "ground.stud"),
        "battery-link": ("battery.grounded", "battery_second.live"),
        "battery-live": ("battery.live", "main_junction.stud"),
    },
    "side by side": {
        "battery-ground": ("battery_second.grounded", "ground.stud"),
        "battery-link": ("battery.grounded", "battery_second.grounded"),
        "live-link": ("battery.live", "battery_second.live"),
        "battery-live": ("battery.live", "main_junction.stud"),
    },
    "side by side, each grounded": {
        "battery-ground": ("battery.grounded", "ground.stud"),
        "battery-link": ("battery_second.grounded", "ground.stud"),
        "battery-live": ("battery.live", "main_junction.stud"),
        "live-link": ("battery_second.live", "main_junction.stud"),
    },
}
"""Cables of two batteries, by id: from and to."""


@st.composite
def two_battery_pairs(draw):
    """
    Jobs on a vehicle with two batteries, in either direction.

    The job may leave them, resize a cable, take one of them out, or turn the ground round.
    """
    vehicle = draw(vehicles())
    count = len(vehicle["place"])
    wires = [
        wire
        for wire in vehicle["wiring"]["wires"]
        if not any(end.startswith("battery.") for end in (wire["from"], wire["to"]))
    ]
    parts = vehicle["component"]
    rest = {**vehicle, "component": [part for part in parts if part["kind"] != "battery"]}
    second = _part(draw, "battery_second", "battery", ("positive", "negative"), count)
    cables = LAYOUTS[draw(st.sampled_from(sorted(LAYOUTS)))]
    wires += [_wire(draw, name, *ends) for name, ends in cables.items()]
    vehicle |= {"component": [*parts, second], "wiring": {"wires": wires}}
    sides = []
    for prefix in ("a", "b"):
        header = {"title": prefix, "summary": prefix, "vehicle": "generated"}
        changes = {}
        if prefix == "b":
            header["ground"] = draw(one_of(("negative", "positive")))
            changes = draw(st.sampled_from(({}, _resized("battery-link"), _one_battery(cables))))
        configuration = {"configuration": header, "changes": changes}
        system = draw(systems(rest, prefix))
        sides.append(configuration_from(vehicle, {"ignition": system}, configuration, prefix))
    return tuple(draw(st.permutations(sides)))


def _resized(name):
    return {"change_wires": [{"id": name, "size": "6 SAE", "insulation": "GPT"}]}


def _one_battery(cables):
    """The changes that leave one battery, joined as the pair was."""
    return {
        "remove_components": ["battery_second"],
        "remove_wires": [name for name in cables if name.endswith("-link")],
        "change_wires": [{"id": "battery-ground", "from": "battery.grounded"}],
    }
