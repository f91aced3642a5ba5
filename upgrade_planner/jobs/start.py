"""The three papers of one job beside each other: the call behind the end of `start`."""

from datetime import date
from pathlib import Path

from attrs import frozen

from upgrade_planner.jobs import kit as kitting
from upgrade_planner.jobs import quote as quoting
from upgrade_planner.jobs import worksheet as planning
from upgrade_planner.library.collected import Say

CAR, FOUND, TARGET, FORM = "my_car.toml", "my_real_car.toml", "my_target.toml", "form"
"""Files of `start` in its folder; the form has the suffix of its format."""


@frozen(kw_only=True)
class Papers:
    """
    What was written.

    Attributes:
        has_danger: True if a danger stands in the target.
    """

    files: tuple[Path, ...]
    remarks: tuple[str, ...]
    has_danger: bool


def start(
    car: str, target: str, folder: Path, issued: date, *, suffix: str, say: Say = lambda _: None
) -> Papers:
    """
    Writes work sheet, kit list and quotation of one job into a folder.

    Args:
        car: The car as it is.
        target: What it shall be.
        folder: Where the files go.
        issued: Date of issue.
        suffix: `.pdf` or `.html`.
        say: Told what is being done.

    Raises:
        PlannerError: faulty input, or a file that cannot be written.
    """
    names = ("sheet", "kit", "quotation")
    sheet, kit, quotation = (folder / f"{name}{suffix}" for name in names)
    request = planning.SheetRequest(before=car, after=target, target=sheet, issued=issued)
    (made,) = planning.worksheet(request, say)
    pair = kitting.OrderedUpgrade(configurations=(car, target))
    kitting.kit(kitting.KitRequest(pairs=(pair,), target=kit, issued=issued), say)
    offer = quoting.QuoteRequest(before=car, after=(target,), target=quotation, issued=issued)
    quoting.quote(offer, say)
    return Papers(
        files=(sheet, kit, quotation),
        remarks=made.remarks,
        has_danger=planning.danger_stands(made.plan),
    )
