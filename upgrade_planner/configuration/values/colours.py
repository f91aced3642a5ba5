"""
Colours of wires by their letter codes: `RD`, `RD/WH` (red with a white tracer), `GNYE`.

Profiles state codes, not words; the paper prints both.
"""

from itertools import product

from attrs import field
from attrs.validators import in_, optional

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.values.notation import NotationError, nearest_words, shown_scalar

# IEC 757:1983 (GOST 28763-90, national copy), table; seen.
COLOUR_WORDS = {
    "BK": "black",
    "BN": "brown",
    "RD": "red",
    "OG": "orange",
    "YE": "yellow",
    "GN": "green",
    "BU": "blue",
    "VT": "violet",
    "GY": "grey",
    "WH": "white",
    "PK": "pink",
    "GD": "gold",
    "TQ": "turquoise",
    "SR": "silver",
    "GNYE": "green-and-yellow",
}
GREEN_AND_YELLOW = "GNYE"

# Words people write: purple, slate and light blue from the same table, the rest common practice.
_OTHER_WORDS = {"purple": "VT", "slate": "GY", "light blue": "BU", "green/yellow": "GN/YE"}
_OTHER_WORDS |= {"gray": "GY", "light green": "GN", "dark blue": "BU", "dark green": "GN"}
_CODE_OF_WORD = {word: code for code, word in COLOUR_WORDS.items()} | _OTHER_WORDS

CODE_LENGTH = 2  # letters of a single colour
NEAREST = 3  # how many codes an error offers
_EXPECTED = f"letter codes such as RD or RD/WH, of {', '.join(COLOUR_WORDS)}"


class ColourError(NotationError):
    """A text that is no colour code."""


@frozen
class Colour:
    """
    Colour of a wire.

    Attributes:
        main: Code of the main colour.
        tracer: Code of the stripe along the wire, or None.
    """

    main: str = field(validator=in_(COLOUR_WORDS))
    tracer: str | None = field(default=None, validator=optional(in_(COLOUR_WORDS)))

    @property
    def code(self) -> str:
        """As in profiles: `RD/WH`."""
        return f"{self.main}/{self.tracer}" if self.tracer else self.main

    @property
    def words(self) -> str:
        """In words: `red/white`."""
        main = COLOUR_WORDS[self.main]
        return f"{main}/{COLOUR_WORDS[self.tracer]}" if self.tracer else main

    @property
    def label(self) -> str:
        """Code and words: `RD/WH red with white tracer`."""
        tracer = f" with {COLOUR_WORDS[self.tracer]} tracer" if self.tracer else ""
        return f"{self.code} {COLOUR_WORDS[self.main]}{tracer}"


def parse_colour(text: object) -> Colour:
    """
    The colour that a code such as `RD/WH` stands for, in capitals or not.

    `GNYE` is one colour; `GN/YE` stays what it says, green with a yellow tracer.

    Raises:
        ColourError: The text is no code, has more than one tracer, a tracer of the main colour,
            combines `GNYE` (IEC 60757:2021, 5.1), or is not a text at all.

    Example:
        >>> parse_colour("rd/wh").label
        'RD/WH red with white tracer'
    """
    if not isinstance(text, str):
        raise ColourError(shown_scalar(text), 'a colour code in quotes, e.g. "RD/WH"')
    codes = tuple(part.strip().upper() for part in text.split("/"))
    if not set(codes) <= set(COLOUR_WORDS):
        raise _unknown(text)
    _refuse_combination(text, codes)
    return Colour(*codes)


def parse_spoken_colour(text: object) -> Colour:
    """
    The colour that a person writes beside a car: a code, or words such as `red/white`.

    Raises:
        ColourError: as at `parse_colour`.

    Example:
        >>> parse_spoken_colour("red with white tracer").code
        'RD/WH'
    """
    if not isinstance(text, str):
        return parse_colour(text)
    words = " ".join(text.casefold().replace(" tracer", "").split())
    parts = [part.strip() for part in words.replace(" with ", "/").replace(" and ", "/").split("/")]
    if all(part in _CODE_OF_WORD for part in parts):
        return parse_colour("/".join(_CODE_OF_WORD[part] for part in parts))
    return parse_colour(text)


def _refuse_combination(text: str, codes: tuple[str, ...]) -> None:
    main, *tracers = codes
    if len(tracers) > 1:
        raise ColourError(
            shown_scalar(text), "one main colour and at most one tracer", _pairs(codes)
        )
    if main in tracers:
        raise ColourError(shown_scalar(text), "a tracer of another colour, or none", [main])
    if tracers and GREEN_AND_YELLOW in codes:
        raise ColourError(
            shown_scalar(text), "GNYE alone; it is never combined", [GREEN_AND_YELLOW]
        )


def _pairs(codes: tuple[str, ...]) -> list[str]:
    main, *tracers = codes
    return [f"{main}/{tracer}" for tracer in tracers if tracer != main][:NEAREST]


def _unknown(text: str) -> ColourError:
    words = " ".join(text.casefold().split())
    if words in _CODE_OF_WORD:
        code = _CODE_OF_WORD[words]
        return ColourError(shown_scalar(text), f"the letter code of {words}, {code}", [code])
    parts = [_likely_codes(part) for part in _parts(words) if part]
    nearest = ["/".join(codes) for codes in product(*parts) if _is_possible(codes)]
    return ColourError(shown_scalar(text), _EXPECTED, nearest[:NEAREST])


def _is_possible(codes: tuple[str, ...]) -> bool:
    """Whether a suggestion would itself be accepted."""
    is_combined = len(codes) > 1
    return (
        bool(codes)
        and len(set(codes)) == len(codes)
        and not (is_combined and GREEN_AND_YELLOW in codes)
    )


def _parts(words: str) -> list[str]:
    """Main colour and tracer of a text in another manner: `RDWH`, `RD-WH`, `red + white`."""
    for mark in "-+,_":
        words = words.replace(mark, "/")
    if len(words) == 2 * CODE_LENGTH and "/" not in words:
        halves = [words[:CODE_LENGTH], words[CODE_LENGTH:]]
        if all(half.upper() in COLOUR_WORDS for half in halves):
            return halves
    return [part.strip() for part in words.split("/")][:2]


def _likely_codes(part: str) -> list[str]:
    if part.upper() in COLOUR_WORDS:
        return [part.upper()]
    if part in _CODE_OF_WORD:
        return [_CODE_OF_WORD[part]]
    by_word = [_CODE_OF_WORD[word] for word in nearest_words(part, _CODE_OF_WORD)]
    by_code = nearest_words(part, COLOUR_WORDS, most=len(COLOUR_WORDS))
    by_code.sort(key=lambda code: code[0] != part[:1].upper())
    return list(dict.fromkeys(by_word + by_code[:NEAREST]))
