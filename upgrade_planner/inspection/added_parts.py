"""Parts that are not in the profile: a line of the form becomes a part with its wires."""

import re
from collections.abc import Collection, Mapping
from functools import cache
from itertools import count
from typing import Any

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.files.faults import quoted
from upgrade_planner.configuration.files.own_data import data_table
from upgrade_planner.configuration.model import Conductor, Configuration, TerminalRef, Wire
from upgrade_planner.configuration.values.sizes import size_text
from upgrade_planner.configuration.ways import Place
from upgrade_planner.inspection.collecting import Collector, Entry
from upgrade_planner.inspection.form_lines import FormLine
from upgrade_planner.inspection.strangers import UNSAID_INSULATION, WANTED
from upgrade_planner.inspection.terminal_names import TerminalNames

COLUMNS = (
    "present",
    "marked",
    "place_found",
    "from_found",
    "to_found",
    "size_found",
    "colour_found",
    "insulation_found",
    "length_measured",
    "condition",
    "note",
)
CASE = ("case", "body", "bracket", "ground", "earth", "chassis", "frame", "housing", "itself")
"""What people write of a part that is grounded where it is bolted on."""

JOINT = "blade 6.3 mm"
"""How an added part is joined, which the form does not ask. Our assumption."""

UNSAID_COLOUR = "GY"
"""Colour of the wire of an added part that nobody wrote down. Source: the colours of the guide."""

SWITCH = "switch"
CLOSED = [["in", "out"]]

_FIGURE = re.compile(r"(\d+(?:[.,]\d+)?)\s*(w|watts?|a|amps?|amperes?)\b", re.IGNORECASE)


@frozen(kw_only=True)
class AddedKind:
    """A kind of part that owners add, from data/added.toml."""

    id: str
    words: tuple[str, ...]
    kind: str
    circuit: str
    power_w: float = 0.0


@frozen(kw_only=True)
class AddedPart:
    """
    What a line makes, as entries of a profile.

    Attributes:
        changed: Wires of the profile that now end at the part, by id.
    """

    component: Entry
    wires: tuple[Entry, ...]
    changed: Mapping[str, Entry]


@cache
def added_kinds() -> tuple[AddedKind, ...]:
    """All of them, in the order in which they are tried."""
    entries = data_table(__package__, "added.toml")["kind"]
    return tuple(AddedKind(**{**entry, "words": tuple(entry["words"])}) for entry in entries)


def added_part(
    answer: FormLine, names: TerminalNames, taken: Collection[str], collector: Collector
) -> AddedPart | None:
    """
    The part and wires of a line; None, with a fault in the collector, if they are not clear.

    Args:
        answer: The line.
        names: Terminals that it may name.
        collector: What it was printed for; faults and doubts go there.
        taken: Roles and ids of wires that are used already.
    """
    before = len(collector.problems)
    collector.refuse_columns(answer, COLUMNS)
    added = _kind_of(answer, collector)
    ends = {key: _end(answer, key, names, collector) for key in ("from", "to")}
    _refuse_missing(answer, added, ends, collector)
    place = _place(answer, ends["from"], collector)
    if len(collector.problems) > before or added is None or place is None:
        return None
    role = _free(f"added_{added.id}", taken)
    made = _Made(answer, added, role, place, collector)
    part = made.switch(ends, taken) if added.kind == SWITCH else made.consumer(ends, taken)
    return part if len(collector.problems) == before else None


def _kind_of(answer: FormLine, collector: Collector) -> AddedKind | None:
    words = {w.removesuffix("s") for w in re.split(r"[^a-z-]+", answer.marked.lower())}
    found = next((added for added in added_kinds() if words & set(added.words)), None)
    if found is None:
        expected = f"what it is, one of: {', '.join(added.id for added in added_kinds())}"
        collector.refuse(answer, "marked", quoted(answer.marked or "nothing"), expected)
    return found


def _end(
    answer: FormLine, key: str, names: TerminalNames, collector: Collector
) -> TerminalRef | None:
    written = answer.start if key == "from" else answer.end
    if not written or (key == "to" and written.strip().lower() in CASE):
        return None
    ref = names.find(written)
    if ref is None:
        collector.refuse(answer, f"{key}_found", *names.refusal(written))
    return ref


def _refuse_missing(
    answer: FormLine,
    added: AddedKind | None,
    ends: Mapping[str, TerminalRef | None],
    collector: Collector,
) -> None:
    needed = ["from_found"]
    is_switch = added is not None and added.kind == SWITCH
    needed += ["to_found"] if is_switch else []
    cut = _cut_wire(ends, collector.configuration) if is_switch else None
    if cut is None or cut.conductor is not Conductor.COPPER:
        needed += ["size_found", "colour_found"] if is_switch else ["size_found"]
    for column in needed:
        if column not in answer.filled:
            collector.refuse(answer, column, "nothing", WANTED[column])


def _cut_wire(ends: Mapping[str, TerminalRef | None], configuration: Configuration) -> Wire | None:
    """The wire of the profile in which a switch between two terminals sits."""
    return next((w for w in configuration.wires if {*w.ends} == {*ends.values()}), None)


def _place(answer: FormLine, feed: TerminalRef | None, collector: Collector) -> Place | None:
    """Where the part sits: as written, else where it is fed."""
    configuration = collector.configuration
    if not answer.place:
        if feed is None:
            return None
        collector.doubt(answer, f"where it sits is not said; it stands where {_words(feed)} is")
        return configuration.place_of(feed)
    words = set(re.findall(r"\w+", answer.place.lower().replace("_", " ")))
    found = [
        place
        for place in configuration.places
        if answer.place.lower() == place.id or words <= set(re.findall(r"\w+", place.name.lower()))
    ]
    if len(found) == 1:
        return found[0]
    several = ", which may be several" if found else ""
    those = ", ".join(place.name for place in found or configuration.places)
    collector.refuse(answer, "place_found", quoted(answer.place) + several, f"one of: {those}")
    return None


def _free(stem: str, taken: Collection[str]) -> str:
    names = (stem if number == 1 else f"{stem}_{number}" for number in count(1))
    return next(name for name in names if name not in taken)


@frozen
class _Made:
    """The entries of one added part."""

    answer: FormLine
    added: AddedKind
    role: str
    place: Place
    collector: Collector

    def consumer(self, ends: Mapping[str, TerminalRef | None], taken: Collection[str]) -> AddedPart:
        """A part that is fed, and grounded by a wire or by its case."""
        self._doubt_colour()
        feed = self._wire("supply", ends["from"], taken, **self._length())
        wires = [feed]
        if ends["to"] is not None:
            ground = self._wire("return", ends["to"], (*taken, feed["id"]))
            wires.append({**ground, "circuit": "ground", "colour": "BK"})
        elif not self.place.metal:
            expected = "the terminal of its ground: nothing it is bolted to is grounded"
            self.collector.refuse(self.answer, "to_found", "nothing", expected)
        grounds = "return" if ends["to"] is not None else "case"
        doubt = f"it draws as long as {_words(ends['from'])} is live"
        self.collector.doubt(self.answer, f"{doubt}, if no switch is written down")
        component = self._component(("supply", grounds), self._ratings())
        return AddedPart(component=component, wires=tuple(wires), changed={})

    def switch(self, ends: Mapping[str, TerminalRef | None], taken: Collection[str]) -> AddedPart:
        """A switch in a wire of the profile, closed in its first position; else between two."""
        cut = _cut_wire(ends, self.collector.configuration)
        ways: Entry = {"off": [], "on": CLOSED}
        positions = {name: ways[name] for name in (ways if cut is None else ("on", "off"))}
        component = self._component(("in", "out"), {"positions": positions})
        first = next(iter(positions))
        words = f"a switch that stands on '{first}' in every state that does not name it"
        self.collector.doubt(self.answer, words)
        if cut is None:
            circuit = {"circuit": self._circuit_at(ends["to"])}
            one = self._wire("in", ends["from"], taken, **circuit)
            other = self._wire("out", ends["to"], (*taken, one["id"]), **circuit)
            return AddedPart(component=component, wires=(one, other), changed={})
        like = {"circuit": cut.circuit, "size": size_text(cut.given_size)}
        like |= {"colour": cut.colour.code, "insulation": cut.insulation.name}
        rest = self._wire("out", cut.end, taken, **{**like, **self._copper()})
        there = {"to": f"{self.role}.in", **({"route": ""} if cut.loom else {})}
        return AddedPart(component=component, wires=(rest,), changed={cut.id: there})

    def _component(self, terminals: tuple[str, str], ratings: Entry) -> Entry:
        name = self.answer.marked[:1].upper() + self.answer.marked[1:]
        entry: Entry = {"role": self.role, "kind": self.added.kind, "name": name}
        entry |= {"place": self.place.id, "terminals": tuple(map(_terminal, terminals))}
        entry["ratings"] = ratings
        entry |= {"condition": self.answer.worn} if self.answer.worn else {}
        return entry | ({"note": self.answer.note} if self.answer.note else {})

    def _ratings(self) -> Entry:
        volts = self.collector.configuration.vehicle.voltage_v
        figure = _FIGURE.search(self.answer.marked)
        power_w = self.added.power_w
        if figure:
            number = float(figure[1].replace(",", "."))
            power_w = number if figure[2].lower().startswith("w") else number * volts
        else:
            words = f"neither watts nor amperes said; {power_w:g} W stand for it"
            self.collector.doubt(self.answer, words)
        if self.added.kind == "motor":
            current = f"{power_w / volts:.3g} A"
            return {"running_current": current, "rated_voltage": f"{volts:g} V"}
        return {"power": f"{power_w:g} W", "rated_voltage": f"{volts:g} V"}

    def _wire(
        self, terminal: str, other: TerminalRef | None, taken: Collection[str], **more: Any
    ) -> Entry:
        here, there = f"{self.role}.{terminal}", str(other)
        is_fed = terminal in ("supply", "in")
        stem = self.role.replace("_", "-")
        return {
            "id": _free(f"{stem}-{terminal}", taken),
            "circuit": self.added.circuit,
            "from": there if is_fed else here,
            "to": here if is_fed else there,
            "colour": UNSAID_COLOUR,
            "insulation": UNSAID_INSULATION,
            **self._copper(),
            **more,
        }

    def _copper(self) -> Entry:
        answer = self.answer
        entry: Entry = {"size": size_text(answer.size)} if answer.size else {}
        entry |= {"colour": answer.colour.code} if answer.colour else {}
        return entry | ({"insulation": answer.insulation.name} if answer.insulation else {})

    def _doubt_colour(self) -> None:
        if not self.answer.colour:
            words = f"colour of its wire not said; {UNSAID_COLOUR} stands for it"
            self.collector.doubt(self.answer, words)

    def _length(self) -> Entry:
        return {"length": self.answer.length} if self.answer.length else {}

    def _circuit_at(self, ref: TerminalRef | None) -> str:
        wires = self.collector.configuration.wires
        return next((wire.circuit for wire in wires if ref in wire.ends), self.added.circuit)


def _words(ref: TerminalRef | None) -> str:
    return "" if ref is None else f"{ref.role} {ref.terminal}".replace("_", " ")


def _terminal(name: str) -> Entry:
    is_case = name == "case"
    return {"name": name, "label": name, "connection": "case" if is_case else JOINT}
