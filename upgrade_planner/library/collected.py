"""All shipped configurations at once, with what one sees of each."""

from collections.abc import Callable, Iterable

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.files.shipped import shipped_profiles
from upgrade_planner.configuration.loading import load_configuration
from upgrade_planner.configuration.model import Configuration
from upgrade_planner.errors import PlannerError
from upgrade_planner.library.traits import Traits, traits_of

Say = Callable[[str], None]


@frozen(kw_only=True, eq=False)
class Shipped:
    """A shipped configuration and its traits."""

    name: str
    configuration: Configuration
    traits: Traits


@frozen(kw_only=True)
class LeftOut:
    """A shipped configuration that cannot be used, and why."""

    name: str
    reason: str


@frozen(kw_only=True, eq=False)
class Library:
    """What ships with the program, as far as it is sound."""

    shipped: tuple[Shipped, ...]
    left_out: tuple[LeftOut, ...] = ()


def load_library(say: Say = lambda _: None, names: Iterable[str] | None = None) -> Library:
    """
    Shipped configurations, by name; a faulty one is left out with its first fault.

    Args:
        say: Told what is being read.
        names: Those that are wanted; all of them if None.
    """
    shipped, left_out = [], []
    for name in shipped_profiles("configuration") if names is None else names:
        say(f"reading {name}")
        try:
            configuration = load_configuration(name)
        except PlannerError as error:
            left_out.append(LeftOut(name=name, reason=str(error).splitlines()[0]))
            continue
        traits = traits_of(configuration)
        shipped.append(Shipped(name=name, configuration=configuration, traits=traits))
    return Library(shipped=tuple(shipped), left_out=tuple(left_out))
