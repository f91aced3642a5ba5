"""What a shop writes down about one job, from its file and from single options."""

from collections.abc import Callable
from decimal import Decimal
from pathlib import Path
from typing import TypeVar

from attrs import evolve

from upgrade_planner.configuration.files.faults import FieldFault
from upgrade_planner.configuration.structuring.single_values import text_from
from upgrade_planner.errors import PlannerError
from upgrade_planner.kit.job_file import Customer, JobFile, read_job_file
from upgrade_planner.kit.prices.notations import money_from, printed_from

T = TypeVar("T")


def job_papers(
    path: Path | None, *, number: str = "", revision: str = "", customer: str = ""
) -> JobFile:
    """
    The job of a file, or an empty one, with what single options say in place of it.

    Raises:
        ConfigurationError: the file cannot be read or is faulty.
        PlannerError: an option that the file would not take.
    """
    number = _typed("--number", number, printed_from)
    revision = _typed("--revision", revision, printed_from)
    customer = _typed("--customer", customer, text_from)
    job = JobFile() if path is None else read_job_file(path)
    papers = job.job
    papers = evolve(papers, number=number or papers.number, revision=revision or papers.revision)
    named = job.customer
    if customer:
        named = Customer(name=customer) if named is None else evolve(named, name=customer)
    return evolve(job, job=papers, customer=named)


def invoice_number(text: str) -> str:
    """
    The number of an invoice from its option, judged as that of an offer.

    Raises:
        PlannerError: too long, or not printable.
    """
    return _typed("--number", text, printed_from)


def paid_before(text: str) -> Decimal:
    """
    What a customer has paid before, from its option; nothing for "".

    Raises:
        PlannerError: no amount, or one below zero.
    """
    return _typed("--paid", text or "0", money_from)


def _typed(option: str, text: str, read: Callable[[str], T]) -> T:
    """What an option says, judged as in the file."""
    try:
        return read(text)
    except FieldFault as fault:
        raise PlannerError(f"{option}: {fault}") from fault
