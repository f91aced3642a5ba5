"""What a step, a reading or a message about danger may name; `documents` puts it into words."""

from collections.abc import Mapping

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.values.measures import Quantity


@frozen
class Post:
    """
    A battery post as a person finds it.

    Attributes:
        sign: positive or negative.
        battery: Name of the battery where there are several, else "".
    """

    sign: str
    battery: str = ""


@frozen(order=True)
class Numbered:
    """A conductor by its number through all papers and its name."""

    number: int
    name: str


Fact = bool | int | str | Quantity | Post | Numbered | None | tuple["Fact", ...]
"""
Something that is true or not, a count, a name or mark, a number with its kind, a post, a
conductor; None for a
number that is not known; or several of these.
"""

Facts = Mapping[str, Fact]
