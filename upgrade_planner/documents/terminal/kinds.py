"""Kinds of component on the screen: terminals, ratings with unit and an example, from the data."""

from collections.abc import Iterator, Mapping
from typing import Any

from upgrade_planner.configuration.files.faults import one_of
from upgrade_planner.configuration.files.shipped import shipped_profiles
from upgrade_planner.configuration.files.toml_files import read_toml
from upgrade_planner.configuration.files.toml_text import value_text
from upgrade_planner.configuration.kinds import Kind
from upgrade_planner.configuration.registry import kinds
from upgrade_planner.errors import PlannerError


def kind_lines() -> Iterator[str]:
    """Every kind with its words, terminals and required ratings, a line each."""
    for kind in kinds().values():
        ratings = ", ".join(sorted(kind.required_ratings)) or "none"
        terminals = ", ".join(kind.required_terminals) or "any"
        yield f"{kind.id}: {kind.words}; terminals: {terminals}; ratings it must have: {ratings}"
    yield "More of one: upgrade-planner show --kind NAME"


def one_kind_lines(name: str) -> Iterator[str]:
    """
    One kind: its terminals, and each rating as a profile gives it.

    Raises:
        PlannerError: no such kind.
    """
    if name not in kinds():
        raise PlannerError(f"--kind: found '{name}'; expected {one_of(name, kinds(), limit=99)}")
    kind, example = kinds()[name], _example(name)
    optional = kind.optional_terminals
    yield f"{kind.id}: {kind.words}"
    yield f"terminals it must have: {', '.join(kind.required_terminals) or 'none'}"
    also = "any" if optional is None else ", ".join(optional) or "none"
    yield f"terminals it may have: {also}"
    yield from _ratings(kind, example.get("ratings", {}))
    if example:
        yield f"an example ({example['name']}):"
        yield f'  kind = "{name}"'
        for terminal in example.get("terminals", ()):
            yield f"  terminal {value_text(terminal)}"


def _ratings(kind: Kind, given: Mapping[str, Any]) -> Iterator[str]:
    for rating, word in kind.ratings.items():
        must = "must be given" if rating in kind.required_ratings else "may be given"
        there = f", such as {_shown(given[rating])}" if rating in given else ""
        yield f"rating {rating}: {word.rstrip('!')}, {must}{there}"


def _shown(value: object) -> str:
    return str(value) if isinstance(value, int | float) else value_text(value)


def _example(name: str) -> dict[str, Any]:
    """A shipped part of the kind, the one with the most ratings."""
    found = [
        part
        for folder in ("vehicle", "system")
        for path in shipped_profiles(folder).values()
        for part in read_toml(path).data.get("component", ())
        if part.get("kind") == name
    ]
    return max(found, key=lambda part: len(part.get("ratings", {})), default={})
