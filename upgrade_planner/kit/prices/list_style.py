"""How a shop writes its price list: titles of columns, words, decimal mark, currency."""

from collections.abc import Mapping
from typing import Annotated, Any, ClassVar

from attrs import Factory

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.files.faults import FieldFault, shown
from upgrade_planner.configuration.structuring.single_values import text_from
from upgrade_planner.kit.prices.notations import Text, currency_code_from, words_from

ENCODINGS = ("utf-8", "cp1252", "iso-8859-15", "cp850", "mac-roman")
"""In which a list may be said to be; UTF-8, UTF-16 and CP1252 are recognised."""

AS_CUT = "as cut"
"""Of cable by the reel: the customer pays the length that is cut."""


def _file_from(value: Any) -> str:
    text = text_from(value)
    if not text.lower().endswith((".csv", ".xlsx")):
        raise FieldFault(shown(text), 'the name of a CSV or XLSX file, such as "prices.csv"')
    return text


def _texts_from(value: Any) -> tuple[str, ...]:
    """One text or a list of them."""
    return tuple(map(words_from, value if isinstance(value, list) else [value]))


Texts = Annotated[tuple[str, ...], _texts_from]


@frozen(kw_only=True)
class ListTexts:
    """
    The `[prices]` table of a shop's settings.

    Attributes:
        file: The list, beside the settings.
        decimal: "" if it is recognised.
        columns: The shop's own titles by the name of our column.
        words: The shop's own words by ours, for articles and selling units.
        reels: Whether cable by the reel is sold in the lengths that are cut, or in whole reels.
        printed: Titles of the shop's own columns that stand on papers.
    """

    stands_in_a_file: ClassVar[bool] = True
    examples: ClassVar[Mapping[str, str]] = {"file": '"prices.csv"', "currency": '"EUR"'}
    file: Annotated[str, _file_from]
    currency: Annotated[str, currency_code_from]
    decimal: Annotated[str, "choice", "point", "comma"] = ""
    encoding: Annotated[str, "choice", *ENCODINGS] = ""
    reels: Annotated[str, "choice", AS_CUT, "as sold"] = AS_CUT
    columns: dict[str, Texts] = Factory(dict)
    words: dict[str, Texts] = Factory(dict)
    printed: tuple[Text, ...] = ()


def folded(title: str) -> str:
    """
    A title or word as it is compared: small letters, one spelling of spaces.

    Example:
        >>> folded(" Sold  by"), folded("SOLD_BY")
        ('sold_by', 'sold_by')
    """
    return "_".join(title.casefold().replace("_", " ").split())


@frozen(kw_only=True)
class ListStyle:
    """
    The same as a reader of the list asks for it.

    Attributes:
        mark: Decimal mark, `.` or `,`; "" if it is to be recognised.
        currency: Three letters, of all prices.
        columns, words: Ours by the shop's own, folded.
        own: The shop's own titles and words by ours, as it writes them.
        printed: Folded titles of own columns.
        cuts_reels: Whether cable by the reel is sold in the lengths that are cut.
    """

    currency: str
    mark: str = ""
    columns: Mapping[str, str] = Factory(dict)
    words: Mapping[str, str] = Factory(dict)
    own: Mapping[str, str] = Factory(dict)
    printed: frozenset[str] = frozenset()
    cuts_reels: bool = False

    def column(self, title: str) -> str:
        """The name of our column that a title means, else the title, folded."""
        name = folded(title)
        return self.columns.get(name, name)

    def word(self, text: str) -> str:
        """Our word for an article or a selling unit, else the text in small letters."""
        return self.words.get(folded(text), " ".join(text.casefold().split()))

    def said(self, ours: str) -> str:
        """The shop's own title or word for one of ours; ours if it has none."""
        return self.own.get(ours, str(ours))
