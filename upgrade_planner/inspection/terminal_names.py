"""Finds the terminal that a person names, by its function or by the label cast on it."""

import re
from collections import Counter, defaultdict

from upgrade_planner.configuration.files.faults import nearest, quoted
from upgrade_planner.configuration.model import (
    Component,
    Configuration,
    Joint,
    Terminal,
    TerminalRef,
)
from upgrade_planner.configuration.registry import kinds

_PARTING = re.compile(r"[\s.:_/()]+")
_WORDS = re.compile(r"[\s.:]+")
SHORTEST_BEGINNING = 3
"""Letters of a last word that may stand for a longer one; our assumption."""
MOST_NAMED = 12
"""Terminals of one part that a message names."""
_LOOSE = {"loose", "nowhere", "cut", "hanging", "hangs", "dangling", "taped", "insulated"}
_NO_END = ("none", "nothing")


class TerminalNames:
    """
    All terminals of a configuration that take a wire.

    A name is the role and the function (`coil.positive`), or the role and the label (`coil 15a`);
    `battery.live` and `battery.grounded` are the right post whatever the polarity. The only part
    of its kind may be called by that (`key switch 15`). Only a name that means one terminal is
    accepted.
    """

    def __init__(self, configuration: Configuration) -> None:
        self._ground = configuration.vehicle.ground
        self._by_name: dict[str, set[TerminalRef]] = defaultdict(set)
        self._refs: dict[str, TerminalRef] = {}
        self._parts: dict[str, list[str]] = defaultdict(list)
        count = Counter(part.kind for part in configuration.components)
        for part in configuration.components:
            alone = (kinds()[part.kind].words,) if count[part.kind] == 1 else ()
            self._add(part, (part.role, *alone))

    def _add(self, part: Component, called: tuple[str, ...]) -> None:
        for terminal in part.terminals:
            if terminal.connection.joint is Joint.CASE:
                continue
            ref = TerminalRef(part.role, terminal.name)
            self._refs[str(ref)] = ref
            names = {terminal.name, terminal.label}
            names |= {f"{terminal.label} {terminal.name}", f"{terminal.name} {terminal.label}"}
            for word in called:
                self._parts[_key(word)].append(f"{word.replace('_', ' ')} {_shown(terminal)}")
            if terminal.name in ("positive", "negative"):
                names.add("grounded" if terminal.name == self._ground else "live")
                names |= {"positive": {"+", "plus"}, "negative": {"-", "−", "minus"}}[terminal.name]
            if terminal.connection.joint is Joint.SPLICE:
                names.add("")
            for name in names:
                for word in called:
                    self._by_name[_key(f"{word} {name}")].add(ref)

    def find(self, written: str) -> TerminalRef | None:
        """The terminal that is meant; None if none or several could be."""
        if written.strip().lower() in self._refs:
            return self._refs[written.strip().lower()]
        found = self._by_name.get(_key(written), set()) or self._only_one(written)
        return next(iter(found)) if len(found) == 1 else None

    def _only_one(self, written: str) -> set[TerminalRef]:
        """The terminal of a part that has no other for a wire; or those that are begun so."""
        of_part = self._parts.get(_key(written), ())
        if len(of_part) == 1:
            return self._by_name[_key(of_part[0])]
        if len(_WORDS.split(written.strip())[-1]) < SHORTEST_BEGINNING:
            return set()
        begun = (refs for name, refs in self._by_name.items() if name.startswith(_key(written)))
        return {ref for refs in begun for ref in refs}

    def refusal(self, written: str) -> tuple[str, str]:
        """What was found and what would be right, for a name that means nothing."""
        if is_loose(written) or written.strip().lower() in _NO_END:
            return f"{quoted(written)}, which is no terminal", (
                "a terminal; a wire that hangs loose is 'no' under present, with a note; a "
                "stranger that hangs loose is a note, not a wire"
            )
        of_part = self._parts.get(_key(written), ())
        if len(of_part) > 1:
            return f"{quoted(written)} without its terminal", f"one of: {', '.join(of_part)}"
        several = sorted(map(str, self._by_name.get(_key(written), ())))
        if several:
            return f"{quoted(written)}, which may be several", f"one of: {', '.join(several)}"
        near = self._near(written)
        words = f", the nearest: {', '.join(near)}" if near else ""
        return f"no terminal {quoted(written)}", (
            f"part and terminal as printed on the form{words}; a joint in the middle of a wire "
            "needs a splice of its own: add it to the written file by hand"
        )

    def _near(self, written: str) -> list[str]:
        """Terminals of the part that was probably meant."""
        roles = {name.partition(".")[0] for name in self._refs}
        words = _WORDS.split(written.strip().lower())
        meant = nearest("_".join(words[:-1] or words), {*roles, *self._parts})
        return self._parts.get(_key(meant), [])[:MOST_NAMED]


def is_loose(written: str) -> bool:
    """
    True if the words for an end say that it is joined to nothing.

    Example:
        >>> is_loose("taped back"), is_loose("coil +")
        (True, False)
    """
    return not _LOOSE.isdisjoint(_WORDS.split(written.strip().lower()))


def _shown(terminal: Terminal) -> str:
    return f"{terminal.name} ({terminal.label})" if terminal.label else terminal.name


def _key(text: str) -> str:
    return "_".join(filter(None, _PARTING.split(text.strip().lower())))
