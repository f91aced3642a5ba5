"""
What a shop writes down about one job, beside the wiring: `job.toml`, for all its papers.

Customer and vehicle papers, numbers, notes, work and items added by hand, discounts. None of it
changes the plan or its check code.
"""

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Annotated, ClassVar

from attrs import Factory

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.files.faults import Fault
from upgrade_planner.configuration.files.loaded import Loaded, sound
from upgrade_planner.configuration.files.positions import Origin
from upgrade_planner.configuration.files.toml_files import TomlFile, read_toml
from upgrade_planner.configuration.structuring.hooks import structured
from upgrade_planner.kit.prices.notations import Hours, Money, Percent, Printed, Text, Year

FIXED_PRICE, ESTIMATE = "fixed price", "estimate"
"""What an offer is: its sum binds the shop, or tells what it expects."""

Kind = Annotated[str, "choice", "fixed price", "estimate"]


@frozen(kw_only=True)
class JobNumbers:
    """
    The `[job]` table.

    Attributes:
        number: The shop's own; without it a quotation is a draft.
        order: Number under which the customer ordered.
        kind: `fixed price` or `estimate`; None for that of the shop's rates.
        deposit: To pay when the work is ordered, tax included.
        delivery: When and where the work is done, in words.
        notes: A line each, for the customer.
    """

    stands_in_a_file: ClassVar[bool] = True
    examples: ClassVar[Mapping[str, str]] = {
        "kind": '"estimate"',
        "deposit": '"200.00"',
        "notes": '["…"]',
    }
    number: Printed = ""
    revision: Printed = ""
    order: Printed = ""
    kind: Kind | None = None
    deposit: Money | None = None
    delivery: str = ""
    notes: tuple[Text, ...] = ()

    @property
    def full_number(self) -> str:
        """Number and revision as one; "" without a number."""
        if not self.number:
            return ""
        return f"{self.number}/{self.revision}" if self.revision else self.number


@frozen(kw_only=True)
class Customer:
    """The `[customer]` table."""

    stands_in_a_file: ClassVar[bool] = True
    examples: ClassVar[Mapping[str, str]] = {"address": '["1 Church Lane", "Invented Town"]'}
    name: Text
    address: tuple[Text, ...] = ()
    contact: str = ""


@frozen(kw_only=True)
class VehiclePapers:
    """
    The `[vehicle]` table: what tells this vehicle from others of its kind.

    Attributes:
        built: Year; the risk of old screws and wires follows it.
    """

    stands_in_a_file: ClassVar[bool] = True
    registration: Printed = ""
    odometer: Printed = ""
    built: Year | None = None

    @property
    def words(self) -> str:
        """`AB 12, 45,300 km`; "" for nothing."""
        return ", ".join(filter(None, (self.registration, self.odometer)))


@frozen(kw_only=True)
class AddedWork:
    """A `[[work]]` table: work that no step of the sheet holds, in hours."""

    stands_in_a_file: ClassVar[bool] = True
    examples: ClassVar[Mapping[str, str]] = {"kind": '"bench"', "hours": '"1.5"'}
    words: Text
    kind: Annotated[
        str, "choice", "wiring", "fitting", "testing", "road_test", "diagnosis", "bench"
    ]
    hours: Hours


@frozen(kw_only=True)
class AddedItem:
    """An `[[item]]` table: anything with a price before tax, such as disposal."""

    stands_in_a_file: ClassVar[bool] = True
    examples: ClassVar[Mapping[str, str]] = {"price": '"12.50"'}
    words: Text
    price: Money


@frozen(kw_only=True)
class Discount:
    """A `[[discount]]` table: percent of labour and parts, or an amount before tax."""

    stands_in_a_file: ClassVar[bool] = True
    examples: ClassVar[Mapping[str, str]] = {"percent": '"5"', "amount": '"50.00"'}
    words: Text
    percent: Percent | None = None
    amount: Money | None = None


@frozen(kw_only=True)
class JobFile:
    """Everything that a shop writes down about one job."""

    stands_in_a_file: ClassVar[bool] = True
    examples: ClassVar[Mapping[str, str]] = {"job": "[job]"}
    job: JobNumbers = Factory(JobNumbers)
    customer: Customer | None = None
    vehicle: VehiclePapers = Factory(VehiclePapers)
    work: tuple[AddedWork, ...] = ()
    item: tuple[AddedItem, ...] = ()
    discount: tuple[Discount, ...] = ()

    @property
    def whose(self) -> str:
        """Customer, vehicle papers and order in one run; "" for nothing."""
        name = self.customer.name if self.customer else ""
        return ", ".join(filter(None, (name, self.vehicle.words, self.job.order)))


NO_JOB_FILE = JobFile()
"""Of a job that nothing is written down about."""


def read_job_file(path: Path) -> JobFile:
    """
    The job of a file.

    Raises:
        ConfigurationError: the file cannot be read or is faulty; every fault, with line and column.
    """
    file = read_toml(path)
    read = structured(JobFile, file)
    amiss = () if read.content is None else tuple(_unfit(read.content, file))
    return sound(read.after(Loaded(None, amiss)))


def _unfit(job: JobFile, file: TomlFile) -> Iterator[Fault]:
    for number, one in enumerate(job.discount):
        if (one.percent is None) == (one.amount is None):
            found = "neither percent nor amount" if one.amount is None else "percent and amount"
            origin = Origin(file.name, ("discount", number))
            yield Fault(origin, f"discount {number + 1}", found, "one of the two")
        elif one.percent is not None and one.percent > 100:
            origin = Origin(file.name, ("discount", number, "percent"))
            yield Fault(origin, f"discount {number + 1}", f"{one.percent} %", "at most 100")
    if job.job.revision and not job.job.number:
        origin = Origin(file.name, ("job", "revision"))
        yield Fault(origin, "job", "a revision without a number", "the number that is revised")
