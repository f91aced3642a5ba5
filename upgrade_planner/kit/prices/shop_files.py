"""
The settings of a shop and its price list from their files.

`shop.toml`, table `[prices]`: see `list_style.ListTexts`. Other tables are read elsewhere.
"""

from collections.abc import Iterable, Iterator
from pathlib import Path

from attrs import evolve

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.files.faults import Fault, one_of, quoted
from upgrade_planner.configuration.files.loaded import Loaded, sound
from upgrade_planner.configuration.files.positions import Origin
from upgrade_planner.configuration.files.shipped import shipped_folder
from upgrade_planner.configuration.files.texts import read_bytes
from upgrade_planner.configuration.files.toml_files import TomlFile, read_toml
from upgrade_planner.configuration.structuring.hooks import structured
from upgrade_planner.configuration.tables.list_table import table_of
from upgrade_planner.errors import ConfigurationError, Problem
from upgrade_planner.kit.articles import sorts
from upgrade_planner.kit.prices.list_style import AS_CUT, ListStyle, ListTexts, folded
from upgrade_planner.kit.prices.price_columns import price_columns, trait_columns
from upgrade_planner.kit.prices.price_lines import price_list
from upgrade_planner.kit.prices.price_list import PriceList, SoldBy
from upgrade_planner.kit.prices.price_numbers import MARKS

SETTINGS = "shop.toml"
LARGEST_LIST_BYTES = 50_000_000
"""Source: our assumption; 50,000 articles take about 5 MB."""

_KEYS = ("file", "currency")


@frozen(kw_only=True)
class PriceSettings:
    """Where a price list is, its encoding ("" if it is recognised), and how it is written."""

    path: Path
    encoding: str
    style: ListStyle


@frozen(kw_only=True)
class _Settings:
    """The tables of a shop's settings that are read here."""

    stands_in_a_file = True
    prices: ListTexts


def shipped_shop() -> Path:
    """Folder of the invented shop that comes with the program."""
    return shipped_folder("profiles") / "shop"


def load_prices(path: Path, *, is_strict: bool = False) -> PriceList:
    """
    The price list of a shop.

    Args:
        path: Its folder, its `shop.toml`, or a CSV or XLSX list beside a `shop.toml`, which then
            stands in place of the one named there.
        is_strict: As at `price_lines.price_list`.

    Raises:
        ConfigurationError: everything that is wrong with settings or list.
    """
    settings = price_settings(path)
    content = read_bytes(settings.path, "a price list", LARGEST_LIST_BYTES)
    table = table_of(str(settings.path), content, settings.encoding)
    return price_list(table, settings.style, is_strict=is_strict)


def price_settings(path: Path) -> PriceSettings:
    """
    How the price list of a shop is written; `path` as at `load_prices`.

    Raises:
        ConfigurationError: no settings, or faults in them.
    """
    is_list = path.suffix.lower() in (".csv", ".xlsx")
    file = path / SETTINGS if path.is_dir() else path.with_name(SETTINGS) if is_list else path
    texts = _list_texts(read_toml(file))
    return PriceSettings(
        path=path if is_list else file.parent / texts.file,
        encoding=texts.encoding,
        style=ListStyle(
            currency=texts.currency,
            mark=MARKS.get(texts.decimal, ""),
            columns=_ours(texts.columns),
            words=_ours(texts.words),
            own={name: said[0] for name, said in (texts.columns | texts.words).items() if said},
            printed=frozenset(map(folded, texts.printed)),
            cuts_reels=texts.reels == AS_CUT,
        ),
    )


def _ours(given: dict[str, tuple[str, ...]]) -> dict[str, str]:
    """Our word by each of the shop's."""
    return {folded(own): name for name, words in given.items() for own in words}


def _list_texts(toml: TomlFile) -> ListTexts:
    if not isinstance(toml.data.get("prices"), dict):
        expected = f"[prices] with {', '.join(_KEYS)}"
        raise ConfigurationError(
            [Problem(file=toml.name, found="no table [prices]", expected=expected)]
        )
    read = structured(_Settings, evolve(toml, data={"prices": toml.data["prices"]}))
    amiss = () if read.content is None else tuple(_unfit(read.content.prices, toml))
    return sound(read.after(Loaded(None, amiss))).prices


def _unfit(texts: ListTexts, toml: TomlFile) -> Iterator[Fault]:
    """Columns and words that we have not, and words of the shop's that mean two of ours."""
    named: tuple[tuple[str, dict[str, tuple[str, ...]], Iterable[str]], ...] = (
        ("columns", texts.columns, (*price_columns(), *trait_columns())),
        ("words", texts.words, (*sorts(), *SoldBy)),
    )
    for table, given, allowed in named:
        meaning: dict[str, str] = {}
        for name, words in given.items():
            origin = Origin(toml.name, ("prices", table, name))
            if name not in allowed:
                expected = one_of(name, allowed, limit=60)
                yield Fault(origin, f"prices {table}", f"unknown name {quoted(name)}", expected)
            for word in map(folded, words):
                if meaning.setdefault(word, name) != name:
                    found = f"{quoted(word)} for '{meaning[word]}' and for '{name}'"
                    yield Fault(origin, f"prices {table}", found, "each word for one of them")
