"""
The settings of a shop and its price list from their files.

`shop.toml`, table `[prices]`: `file` (CSV or XLSX, beside it), `decimal` ("point" or "comma") and
`currency` (three letters). Other tables are read elsewhere.
"""

import re
from pathlib import Path
from typing import Any

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.files.faults import one_of, quoted, shown
from upgrade_planner.configuration.files.positions import nearest_position, positions
from upgrade_planner.configuration.files.shipped import shipped_folder
from upgrade_planner.configuration.files.texts import read_bytes
from upgrade_planner.configuration.files.toml_files import read_toml
from upgrade_planner.configuration.tables.list_table import table_of
from upgrade_planner.errors import ConfigurationError, Problem
from upgrade_planner.kit.prices.price_lines import price_list
from upgrade_planner.kit.prices.price_list import PriceList
from upgrade_planner.kit.prices.price_numbers import MARKS

SETTINGS = "shop.toml"
LARGEST_LIST_BYTES = 50_000_000
"""Source: our assumption; 50,000 articles take about 5 MB."""

_KEYS = ("file", "decimal", "currency")
_CURRENCY = re.compile(r"[A-Z]{3}")


@frozen(kw_only=True)
class PriceSettings:
    """
    How a price list is written.

    Attributes:
        path: The list.
        mark: Decimal mark, `.` or `,`.
        currency: Three letters, of all prices.
    """

    path: Path
    mark: str
    currency: str


def shipped_shop() -> Path:
    """Folder of the invented shop that comes with the program."""
    return shipped_folder("profiles") / "shop"


def load_prices(path: Path) -> PriceList:
    """
    The price list of a shop.

    Args:
        path: Its folder, its `shop.toml`, or a CSV or XLSX list beside a `shop.toml`, which then
            stands in place of the one named there.

    Raises:
        ConfigurationError: everything that is wrong with settings or list.
    """
    settings = price_settings(path)
    content = read_bytes(settings.path, "a price list", LARGEST_LIST_BYTES)
    table = table_of(str(settings.path), content, settings.mark)
    return price_list(table, settings.mark, settings.currency)


def price_settings(path: Path) -> PriceSettings:
    """
    How the price list of a shop is written; `path` as at `load_prices`.

    Raises:
        ConfigurationError: no settings, or faults in them.
    """
    is_list = path.suffix.lower() in (".csv", ".xlsx")
    file = path / SETTINGS if path.is_dir() else path.with_name(SETTINGS) if is_list else path
    toml = read_toml(file)
    table = toml.data.get("prices")
    problems = _faults(toml.name, toml.text, table)
    if problems or not isinstance(table, dict):
        raise ConfigurationError(problems)
    listed = path if is_list else file.parent / table["file"]
    return PriceSettings(path=listed, mark=MARKS[table["decimal"]], currency=table["currency"])


def _faults(name: str, text: str, table: Any) -> list[Problem]:
    if not isinstance(table, dict):
        return [
            Problem(
                file=name, found="no table [prices]", expected=f"[prices] with {', '.join(_KEYS)}"
            )
        ]
    wrong = [(key, quoted(key), one_of(key, _KEYS)) for key in table if key not in _KEYS]
    wrong += [(key, f"no key '{key}'", _wanted(key)) for key in _KEYS if key not in table]
    wrong += [
        (key, shown(table[key]), _wanted(key))
        for key in _KEYS
        if key in table and not _is_right(key, table[key])
    ]
    spans = positions(text)
    problems = []
    for key, found, expected in wrong:
        span = nearest_position(spans, ("prices", key))
        at = (span.key or span.value) if span else None
        problems.append(
            Problem(
                file=name,
                line=at.line if at else 0,
                column=at.column if at else 0,
                subject="prices",
                found=found,
                expected=expected,
            )
        )
    return problems


def _wanted(key: str) -> str:
    return {
        "file": 'the name of a CSV or XLSX file, such as "prices.csv"',
        "decimal": '"point" or "comma"',
        "currency": 'three capital letters, such as "EUR"',
    }[key]


def _is_right(key: str, value: Any) -> bool:
    if not isinstance(value, str):
        return False
    match key:
        case "decimal":
            return value in MARKS
        case "currency":
            return bool(_CURRENCY.fullmatch(value))
    return value.lower().endswith((".csv", ".xlsx"))
