"""What a shop charges: the tables of its rates file, read strictly."""

from collections.abc import Iterable, Iterator, Mapping
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import Annotated, ClassVar

from attrs import Factory

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.files.faults import Fault, one_of, quoted
from upgrade_planner.configuration.files.loaded import Loaded, sound
from upgrade_planner.configuration.files.positions import KeyPath, Origin
from upgrade_planner.configuration.files.shipped import shipped_folder
from upgrade_planner.configuration.files.toml_files import TomlFile, read_toml
from upgrade_planner.configuration.registry import kinds
from upgrade_planner.configuration.structuring.hooks import structured
from upgrade_planner.kit.articles import sorts
from upgrade_planner.kit.job_file import ESTIMATE, Kind
from upgrade_planner.kit.prices.money import Currency, rounded
from upgrade_planner.kit.prices.notations import (
    Days,
    HourlyRate,
    Money,
    Percent,
    Printed,
    Step,
    Text,
)

PER_LINE, PER_TOTAL = "per line", "per total"
PER_JOB, OF_LABOUR, OF_PARTS, OF_BOTH = "job", "labour", "parts", "labour and parts"


@frozen(kw_only=True)
class Letterhead:
    """
    The `[letterhead]` table.

    Attributes:
        tax_number: Of the shop, as invoices must show it; "" for none.
        logo: An SVG or PNG file, as seen from the file of rates; "" for none.
    """

    stands_in_a_file: ClassVar[bool] = True
    name: Text
    address: tuple[Text, ...]
    contact: str = ""
    tax_number: Printed = ""
    logo: str = ""


@frozen(kw_only=True)
class Rounding:
    """The `[rounding]` table: mode of halves, step of billed hours [h], step of the sum to pay."""

    stands_in_a_file: ClassVar[bool] = True
    examples: ClassVar[Mapping[str, str]] = {
        "mode": '"half up"',
        "hours": '"0.1"',
        "totals": '"0.01"',
    }
    mode: Annotated[str, "choice", "half up", "half even"]
    hours: Step
    totals: Step


@frozen(kw_only=True)
class Rate:
    """A `[work.KIND]` table; `rate` is money for an hour."""

    stands_in_a_file: ClassVar[bool] = True
    examples: ClassVar[Mapping[str, str]] = {"rate": '"58.00"'}
    words: Text
    rate: HourlyRate


@frozen(kw_only=True)
class WorkRates:
    """The `[work]` table: a rate for each kind of work."""

    stands_in_a_file: ClassVar[bool] = True
    examples: ClassVar[Mapping[str, str]] = {
        name: f"[work.{name}]"
        for name in ("wiring", "fitting", "testing", "road_test", "diagnosis", "bench")
    }
    wiring: Rate
    fitting: Rate
    testing: Rate
    road_test: Rate
    diagnosis: Rate
    bench: Rate

    def of(self, kind: str) -> Rate:
        """The rate of a kind of work."""
        rate = getattr(self, kind)
        assert isinstance(rate, Rate)
        return rate


@frozen(kw_only=True)
class TaxClass:
    """A `[tax.classes.NAME]` table."""

    stands_in_a_file: ClassVar[bool] = True
    examples: ClassVar[Mapping[str, str]] = {"percent": "20"}
    words: Text
    percent: Percent


@frozen(kw_only=True)
class Tax:
    """The `[tax]` table: classes, which applies to what, and where tax is rounded."""

    stands_in_a_file: ClassVar[bool] = True
    examples: ClassVar[Mapping[str, str]] = {
        "rounding": '"per total"',
        "labour": '"standard"',
        "parts": '"standard"',
        "sundries": '"standard"',
        "cores": '"none"',
        "classes": "[tax.classes]",
    }
    rounding: Annotated[str, "choice", "per line", "per total"]
    labour: Text
    parts: Text
    sundries: Text
    cores: Text
    classes: dict[str, TaxClass]


@frozen(kw_only=True)
class Sundries:
    """The `[sundries]` table: `percent` of labour, parts or both, or an `amount` for each job."""

    stands_in_a_file: ClassVar[bool] = True
    examples: ClassVar[Mapping[str, str]] = {"of": '"labour and parts"'}
    words: Text
    of: Annotated[str, "choice", "labour", "parts", "labour and parts", "job"]
    percent: Percent | None = None
    amount: Money | None = None
    maximum: Money | None = None


@frozen(kw_only=True)
class Margin:
    """The `[margin]` table: percent of what the shop pays. Never on a paper for the customer."""

    stands_in_a_file: ClassVar[bool] = True
    examples: ClassVar[Mapping[str, str]] = {"percent": "25"}
    percent: Percent
    sorts: dict[str, Percent] = Factory(dict)

    def on(self, sort: str) -> Decimal:
        """Margin on a sort of article. [%]"""
        return self.sorts.get(sort, self.percent)


@frozen(kw_only=True)
class Rests:
    """
    The `[rests]` table: whether the job pays whole packs and minima of what is not on the shelf.

    What is left of those that the shelf has serves the next job and is never charged.
    """

    stands_in_a_file: ClassVar[bool] = True
    examples: ClassVar[Mapping[str, str]] = {"charge": '"none"'}
    charge: Annotated[str, "choice", "none", "not stocked"] = "none"

    @property
    def are_charged(self) -> bool:
        """Whether the customer pays what was bought for this job and is left over."""
        return self.charge != "none"


@frozen(kw_only=True)
class Core:
    """A `[cores.KIND]` table: deposit on an exchange part, and the kinds it is given back for."""

    stands_in_a_file: ClassVar[bool] = True
    examples: ClassVar[Mapping[str, str]] = {"deposit": '"40.00"', "takes": '["starter"]'}
    deposit: Money
    takes: tuple[Text, ...]


LANGUAGES = ("en", "en-GB", "en-US", "de", "de-AT", "de-CH")
"""Languages of papers for customers, with the country whose figures they have."""

Language = Annotated[str, "choice", *LANGUAGES]


@frozen(kw_only=True)
class OfferTexts:
    """The `[offer]` table; `language` is that of all papers for customers."""

    stands_in_a_file: ClassVar[bool] = True
    examples: ClassVar[Mapping[str, str]] = {"validity_days": "30", "terms": '["…"]'}
    validity_days: Days
    kind: Kind = ESTIMATE
    language: Language = "en"
    greeting: str = ""
    closing: str = ""
    terms: tuple[Text, ...] = ()


@frozen(kw_only=True)
class InvoiceTexts:
    """
    The `[invoice]` table.

    Attributes:
        payment_days: Within which an invoice is paid.
        payment: How, a line each: an account, a remark.
    """

    stands_in_a_file: ClassVar[bool] = True
    examples: ClassVar[Mapping[str, str]] = {"payment_days": "14", "payment": '["…"]'}
    payment_days: Days = 14
    payment: tuple[Text, ...] = ()


@frozen(kw_only=True)
class Rates:
    """Everything that a shop charges and says."""

    stands_in_a_file: ClassVar[bool] = True
    examples: ClassVar[Mapping[str, str]] = {
        name: f"[{name}]"
        for name in (
            "letterhead",
            "currency",
            "rounding",
            "work",
            "tax",
            "sundries",
            "margin",
            "offer",
        )
    }
    letterhead: Letterhead
    currency: Currency
    rounding: Rounding
    work: WorkRates
    tax: Tax
    sundries: Sundries
    margin: Margin
    rests: Rests = Factory(Rests)
    cores: dict[str, Core] = Factory(dict)
    offer: OfferTexts
    invoice: InvoiceTexts = Factory(InvoiceTexts)

    def rounded(self, amount: Decimal) -> Decimal:
        """An amount as it is printed."""
        return rounded(amount, self.currency.step, self.rounding.mode)


def read_rates(path: Path) -> Rates:
    """
    The rates in a shop's file.

    Raises:
        ConfigurationError: the file cannot be read or is faulty; every fault, with line and column.
    """
    file = read_toml(path)
    read = structured(Rates, file)
    rates = read.content
    amiss = () if rates is None else (*_unknown_names(rates, file), *_unfit_values(rates, file))
    return sound(read.after(Loaded(None, amiss)))


@cache
def shipped_rates() -> Rates:
    """The invented rates of `profiles/shop/rates.toml`."""
    return read_rates(shipped_folder("profiles") / "shop" / "rates.toml")


def _unknown_names(rates: Rates, file: TomlFile) -> Iterator[Fault]:
    classes, tax = rates.tax.classes, rates.tax
    named: list[tuple[KeyPath, str, Iterable[str]]] = [
        (("tax", use), getattr(tax, use), classes)
        for use in ("labour", "parts", "sundries", "cores")
    ]
    named += [(("margin", "sorts", name), name, sorts()) for name in rates.margin.sorts]
    for kind, core in rates.cores.items():
        named.append((("cores", kind), kind, kinds()))
        named += [(("cores", kind, "takes", i), n, kinds()) for i, n in enumerate(core.takes)]
    for path, name, allowed in named:
        if name not in allowed:
            yield _fault(file, path, f"unknown name {quoted(name)}", one_of(name, allowed))


def _unfit_values(rates: Rates, file: TomlFile) -> Iterator[Fault]:
    sundries, step = rates.sundries, rates.currency.step
    wanted, other = ("amount", "percent") if sundries.of == PER_JOB else ("percent", "amount")
    if getattr(sundries, wanted) is None:
        yield _fault(file, ("sundries",), f"no '{wanted}'", f'{wanted} with of = "{sundries.of}"')
    if getattr(sundries, other) is not None:
        found = f"'{other}' with of = \"{sundries.of}\""
        yield _fault(file, ("sundries", other), found, f"'{wanted}'")
    if rates.rounding.totals % step:
        found = f"{rates.rounding.totals}, finer than the currency prints"
        yield _fault(file, ("rounding", "totals"), found, f"a multiple of {step}")


def _fault(file: TomlFile, path: KeyPath, found: str, expected: str) -> Fault:
    subject = " ".join(str(step + 1) if isinstance(step, int) else step for step in path)
    return Fault(Origin(file.name, path), subject, found, expected)
