"""The ratings that make a part the right one, in one line: `35 W, rated voltage 12 V`."""

from upgrade_planner.configuration.model import Component
from upgrade_planner.configuration.registry import kinds
from upgrade_planner.configuration.values.measures import Quantity
from upgrade_planner.configuration.values.quantities import Dimension
from upgrade_planner.documents.words.differences import rating_value_words
from upgrade_planner.documents.words.wording import role_words

_SPEAK_FOR_THEMSELVES = ("power", "resistance")
"""Ratings whose unit says what they are."""


def ratings_words(part: Component, units: str) -> str:
    """Every measured rating of a part, and the polarity that it is made for; "" without any."""
    known = kinds()[part.kind].ratings
    told = []
    for name, value in part.ratings.items():
        word = known.get(name, "").rstrip("!").upper()
        if word == "POLARITY":
            told.append(f"polarity {value}")
        elif word in Dimension.__members__ and isinstance(value, float):
            figure = rating_value_words(Quantity(value, Dimension[word]), units)
            told.append(figure if name in _SPEAK_FOR_THEMSELVES else f"{role_words(name)} {figure}")
    return ", ".join(told)
