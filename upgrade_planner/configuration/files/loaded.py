"""What one step of loading gives: content, what is wrong with it, what is missing from it."""

from collections.abc import Mapping
from functools import reduce
from operator import or_
from typing import Any, Generic, TypeVar

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.files.faults import Fault, Sources
from upgrade_planner.errors import ConfigurationError, Problem

T = TypeVar("T")
T_co = TypeVar("T_co", covariant=True)
U = TypeVar("U")

ANY = "*"

_NOUNS = ("role", "wire", "place", "route", "mounting", "slot", "named_terminal")


@frozen
class Gaps:
    """
    Names that stand in the files, but of which nothing is known.

    Attributes:
        names: Pairs of noun and name; ANY as name if it could not even be read.
        terminals: Names of the terminals of faulty components, where they could be read.
    """

    names: frozenset[tuple[str, str]] = frozenset()
    terminals: Mapping[str, frozenset[str]] = {}

    @classmethod
    def of_any(cls, *nouns: str, name: str = ANY) -> "Gaps":
        """Gaps of one name, or of any, for each noun."""
        return cls(frozenset((noun, name) for noun in nouns))

    def has(self, noun: str, name: str) -> bool:
        """True if there may be a wire, role, place … of that name beside those that are known."""
        return (noun, name) in self.names or (noun, ANY) in self.names

    def has_exactly(self, noun: str, name: str) -> bool:
        """True if more is written of that very wire, role, place … than is known."""
        return (noun, name) in self.names

    def __or__(self, other: "Gaps") -> "Gaps":
        """The gaps of both."""
        return Gaps(self.names | other.names, {**self.terminals, **other.terminals})


EVERYTHING = Gaps.of_any(*_NOUNS)
"""The gaps that a file leaves which could not be read at all."""


@frozen
class Loaded(Generic[T_co]):
    """
    What one step of loading gives; whoever takes the step joins it to what others gave.

    Attributes:
        content: The sound part; None where nothing can be used.
        faults: What is wrong at places in files.
        gaps: What stands in the files, but not in the content.
        problems: What is wrong with files as a whole.
        sources: The files read, to find the lines of faults.
    """

    content: T_co
    faults: tuple[Fault, ...] = ()
    gaps: Gaps = Gaps()
    problems: tuple[Problem, ...] = ()
    sources: Sources = Sources()

    def giving(self, content: U) -> "Loaded[U]":
        """Another content, with all else that this step gave."""
        return Loaded(content, self.faults, self.gaps, self.problems, self.sources)

    def after(self, *earlier: "Loaded[Any]") -> "Loaded[T_co]":
        """The same content; what steps before this one told comes first."""
        steps = (*earlier, self)
        return Loaded(
            self.content,
            faults=tuple(fault for step in steps for fault in step.faults),
            gaps=reduce(or_, (step.gaps for step in steps)),
            problems=tuple(problem for step in steps for problem in step.problems),
            sources=reduce(or_, (step.sources for step in steps)),
        )


def sound(loaded: Loaded[T | None]) -> T:
    """
    The content if nothing stands against it.

    Raises:
        ConfigurationError: something does; holds every problem, with line and column.
    """
    problems = (*loaded.problems, *loaded.sources.problems(loaded.faults))
    if loaded.content is None or problems:
        raise ConfigurationError(problems)
    return loaded.content
