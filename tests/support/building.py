"""
A small complete vehicle with two systems, written to files in which tests spoil single places.

A mark « in a spoilt text says where the problem must be found; it is not written to the file.
"""

# ruff: noqa: E501 - wires stand on one line each, as in profiles

from pathlib import Path

from upgrade_planner.configuration.loading import load_configuration
from upgrade_planner.configuration.model import Configuration
from upgrade_planner.errors import ConfigurationError, Problem

MARK = "«"

VEHICLE = """\
[vehicle]
title = "Little van"
summary = "Just enough wiring to start an engine."
voltage = "12 V"
ground = "negative"
size_system = "SAE"
slots = ["ignition", "charging"]

[[place]]
id = "tray"
name = "battery tray"
space = "engine"
metal = "body"
walk = 1

[[place]]
id = "bulkhead"
name = "bulkhead"
space = "engine"
metal = "body"
walk = 2

[[place]]
id = "dash"
name = "behind the dash"
space = "cabin"
metal = "body"
walk = 3

[[place]]
id = "block"
name = "engine"
space = "engine"
metal = "engine"
walk = 4

[[route]]
from = "tray"
to = "bulkhead"
length = "0.8 m"
covering = "sleeve"
ambient = "60 °C"

[[route]]
from = "bulkhead"
to = "dash"
length = "0.4 m"
covering = "taped loom"
loom = "dash loom"
ambient = "50 °C"
through = "plug"

[[route]]
from = "bulkhead"
to = "block"
length = "0.7 m"
covering = "taped loom"
loom = "engine loom"
ambient = "70 °C"

[mounting]
alternator = "block"
coil = "block"
distributor = "block"

[[component]]
role = "battery"
kind = "battery"
name = "Battery"
place = "tray"
terminals = [
  { name = "positive", label = "+", connection = "post positive" },
  { name = "negative", label = "−", connection = "post negative" },
]
ratings = { emf = "12.6 V", internal_resistance = "10 mohm" }

[[component]]
role = "plug"
kind = "connector"
name = "Bulkhead plug"
place = "bulkhead"
terminals = []
ratings = { cavities = 6, cavity_current = "25 A", cavity_blade = "6.3 mm" }

[[component]]
role = "ground"
kind = "ground_point"
name = "Ground"
place = "bulkhead"
terminals = [
  { name = "stud", label = "31", connection = "stud M8" },
]

[[component]]
role = "key"
kind = "key_switch"
name = "Key switch"
place = "dash"
terminals = [
  { name = "battery", label = "30", connection = "stud M5" },
  { name = "ignition", label = "15", connection = "stud M5" },
]
ratings = { positions = { off = [], run = [["battery", "ignition"]] } }

[[component]]
role = "fuses"
kind = "fuse_box"
name = "Fuse box"
place = "dash"
terminals = [
  { name = "supply", label = "15", connection = "screw M5" },
  { name = "wiper", label = "1", connection = "blade 6.3 mm" },
]
[component.ratings]
fuses = [
  { from = "supply", to = "wiper", rating = "10 A" },
]

[[component]]
role = "charge_lamp"
kind = "lamp"
name = "Charge lamp"
place = "dash"
terminals = [
  { name = "supply", label = "15", connection = "blade 6.3 mm" },
  { name = "return", label = "61", connection = "blade 6.3 mm" },
]
ratings = { power = "2 W", rated_voltage = "12 V" }

[wiring]
wires = [
  { id = "ground-cable", circuit = "battery cable", from = "battery.grounded", to = "ground.stud", size = "4 SAE", colour = "BK", insulation = "SGT" },
  { id = "key-feed", circuit = "distribution", from = "battery.live", to = "key.battery", size = "10 SAE", colour = "RD", insulation = "GPT" },
  { id = "lamp-feed", circuit = "charge lamp", from = "key.ignition", to = "charge_lamp.supply", size = "18 SAE", colour = "GN", insulation = "GPT" },
]
"""

IGNITION = """\
[system]
name = "Points"
slot = "ignition"
summary = "Points and coil."

[[component]]
role = "coil"
kind = "coil"
name = "Coil"
terminals = [
  { name = "positive", label = "15", connection = "stud M4" },
  { name = "negative", label = "1", connection = "stud M4" },
]
ratings = { primary_resistance = "3 ohm" }

[[component]]
role = "distributor"
kind = "points_distributor"
name = "Distributor"
terminals = [
  { name = "points", label = "1", connection = "stud M4" },
  { name = "case", label = "housing", connection = "case" },
]
ratings = { cylinders = 4, dwell_angle = "52 deg" }

[wiring]
wires = [
  { id = "ignition-feed", circuit = "ignition feed", from = "key.ignition", to = "coil.positive", size = "14 SAE", colour = "BU", insulation = "GPT" },
  { id = "points-lead", circuit = "ignition primary", from = "coil.negative", to = "distributor.points", size = "16 SAE", colour = "BK", insulation = "GPT" },
  { id = "tachometer", circuit = "tachometer", from = "coil.negative", to = "tachometer.signal", size = "16 SAE", colour = "WH", insulation = "GPT", if_present = "tachometer" },
]
"""

CHARGING = """\
[system]
name = "Alternator"
slot = "charging"
summary = "Regulator inside."

[[component]]
role = "alternator"
kind = "alternator_internal_regulator"
name = "Alternator"
terminals = [
  { name = "output", label = "B+", connection = "stud M6" },
  { name = "lamp", label = "lamp", connection = "blade 6.3 mm" },
  { name = "case", label = "housing", connection = "case" },
]
ratings = { rated_output = "45 A", set_point = "14.2 V" }

[wiring]
wires = [
  { id = "charge-output", circuit = "charge output", from = "alternator.output", to = "battery.live", size = "8 SAE", colour = "RD", insulation = "GXL" },
  { id = "charge-lamp", circuit = "charge lamp", from = "charge_lamp.return", to = "alternator.lamp", size = "18 SAE", colour = "GN", insulation = "GPT" },
]
"""

CONFIGURATION = """\
[configuration]
title = "Little van as built"
summary = "As built."
vehicle = "vehicle.toml"

[systems]
ignition = "ignition.toml"
charging = "charging.toml"
"""


class Garage:
    """The files of the small vehicle in a folder of their own."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._marks: list[tuple[str, int, int]] = []
        for name, text in (
            ("vehicle", VEHICLE),
            ("ignition", IGNITION),
            ("charging", CHARGING),
            ("configuration", CONFIGURATION),
        ):
            self.write(name, text)

    def path(self, name: str) -> Path:
        return self.folder / (name if "." in name else f"{name}.toml")

    def text(self, name: str) -> str:
        return self.path(name).read_text(encoding="utf-8")

    def write(self, name: str, text: str) -> Path:
        """Writes a file; a mark in it says where a problem is due."""
        before, mark, after = text.partition(MARK)
        if mark:
            line = before.count("\n") + 1
            column = len(before) - before.rfind("\n")
            self._marks.append((str(self.path(name)), line, column))
        assert MARK not in after, "one mark for each change"
        self.path(name).write_text(before + after, encoding="utf-8")
        return self.path(name)

    def spoil(self, name: str, old: str, new: str) -> "Garage":
        """Replaces the only occurrence of a piece of text."""
        text = self.text(name)
        assert text.count(old) == 1, f"{text.count(old)} times {old!r} in {name}"
        self.write(name, text.replace(old, new))
        return self

    def add(self, name: str, text: str) -> "Garage":
        """Adds text at the end of a file."""
        self.write(name, f"{self.text(name)}\n{text}")
        return self

    def forget_marks(self) -> None:
        """For tests that spoil one place after the other."""
        self._marks.clear()

    def load(self, name: str = "configuration") -> Configuration:
        return load_configuration(str(self.path(name)))

    def problems(self, name: str = "configuration") -> tuple[Problem, ...]:
        """Everything that stands against a configuration; nothing if it is sound."""
        try:
            self.load(name)
        except ConfigurationError as error:
            return error.problems
        return ()

    def only_problem(self, name: str = "configuration") -> Problem:
        """The one problem there is, which must stand at the mark."""
        problems = self.problems(name)
        assert len(problems) == 1, "\n".join(map(str, problems)) or "nothing was found"
        self.assert_at_marks(problems)
        return problems[0]

    def assert_at_marks(self, problems: tuple[Problem, ...]) -> None:
        """The problems stand at the marks, each at one, in order of file and line."""
        places = [(problem.file, problem.line, problem.column) for problem in problems]
        assert places == sorted(self._marks), "\n".join(map(str, problems))
