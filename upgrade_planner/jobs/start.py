"""The three papers of one job beside each other: the call behind the end of `start`."""

from datetime import date
from pathlib import Path
from typing import Any

from upgrade_planner.attributes import frozen
from upgrade_planner.jobs import kit as kitting
from upgrade_planner.jobs import quote as quoting
from upgrade_planner.jobs import worksheet as planning
from upgrade_planner.jobs.shop import LABOUR, RATES, shop_file, shop_list
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


@frozen(kw_only=True)
class StartRequest:
    """
    Which papers, and how they shall look.

    Attributes:
        car, target: Names or paths: the car as it is, and what it shall be.
        folder: Where the files go.
        issued: Date of issue.
        suffix: `.pdf` or `.html`.
        shop: Folder of the shop's files; that of the invented shop where None.
        units: `metric`, `us` or `both`.
        english: `us` or `uk` words; "" for those of the vehicle's trade.
    """

    car: str
    target: str
    folder: Path
    issued: date
    suffix: str = ".pdf"
    shop: Path | None = None
    paper: str = "A4"
    units: str = "both"
    english: str = ""


def start(request: StartRequest, say: Say = lambda _: None) -> Papers:
    """
    Writes work sheet, kit list and quotation of one job into a folder.

    Args:
        request: What to write and where.
        say: Told what is being done.

    Raises:
        PlannerError: faulty input, or a file that cannot be written.
    """
    names = ("sheet", "kit", "quotation")
    sheet, kit, quotation = (request.folder / f"{name}{request.suffix}" for name in names)
    look: Any = {
        "issued": request.issued,
        "paper": request.paper,
        "units": request.units,
        "english": request.english,
    }
    car, target = request.car, request.target
    (made,) = planning.worksheet(
        planning.SheetRequest(before=car, after=target, target=sheet, **look), say
    )
    pair = kitting.OrderedUpgrade(configurations=(car, target))
    prices = shop_list(request.shop)
    kitting.kit(kitting.KitRequest(pairs=(pair,), target=kit, prices=prices, **look), say)
    offer = quoting.QuoteRequest(
        before=car,
        after=(target,),
        target=quotation,
        prices=prices,
        rates=shop_file(request.shop, RATES),
        labour=shop_file(request.shop, LABOUR),
        **look,
    )
    quoting.quote(offer, say)
    return Papers(
        files=(sheet, kit, quotation),
        remarks=made.remarks,
        has_danger=planning.danger_stands(made.plan),
    )
