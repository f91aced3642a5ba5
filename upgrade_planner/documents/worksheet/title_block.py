"""What the caller decides about the papers of a job, and the title block that they all bear."""

from collections.abc import Mapping

from attrs import field

from upgrade_planner import __version__
from upgrade_planner.attributes import frozen
from upgrade_planner.documents.words.wording import voltage_words
from upgrade_planner.planning.plan import Plan


@frozen(kw_only=True)
class Identity:
    """Title block and running heads."""

    title: str
    sheet_number: str
    revision: str
    date: str
    vehicle: str
    serial_number: str
    owner: str
    before: str
    after: str
    polarity: str
    """Ground polarity now / after, in words: "negative / negative"."""
    voltage: str
    policy: str
    check_code: str
    program: str


@frozen(kw_only=True)
class SheetOptions:
    """
    What the caller decides about the paper.

    Attributes:
        date: Date of issue, as printed.
        units: `metric`, `us` or `both`.
        sheet_number: Number of the sheet; from the check code if empty.
        revision: Revision letter.
        owner: Customer; the owner that the vehicle's profile names if empty.
        papers: Registration and odometer, as printed.
        heading: What sort of sheet it is, the first words of its title.
        drawn_on: Paper that pictures are laid out for; none are drawn if empty.
        with_reasons: True to print why each wire and part is treated as it is.
        language: `en-US` or `en-GB` words; `en` for the words as written.
        with_record: True for a page with all readings, to be filed alone.
        with_all_wires: True to list the wires that stay where nobody works, too.
        packed: What the kit has in place of what is planned, by wire id.
    """

    date: str
    units: str = "both"
    sheet_number: str = ""
    revision: str = "A"
    heading: str = "Work sheet"
    owner: str = ""
    papers: str = ""
    drawn_on: str = ""
    with_reasons: bool = False
    with_record: bool = False
    with_all_wires: bool = False
    language: str = "en"
    packed: Mapping[str, str] = field(factory=dict)


def identity_of(plan: Plan, options: SheetOptions) -> Identity:
    """Title block of all documents of a job."""
    before, after = plan.comparison.before, plan.comparison.after
    number = options.sheet_number or plan.sheet_number
    return Identity(
        title=f"{options.heading}: {before.vehicle.title}",
        sheet_number=number,
        revision=options.revision,
        date=options.date,
        vehicle=before.vehicle.title,
        serial_number=", ".join(filter(None, (options.papers, before.vehicle.serial_number))),
        owner=options.owner or before.vehicle.owner,
        before=before.title,
        after=after.title,
        polarity=f"{before.vehicle.ground} / {after.vehicle.ground}",
        voltage=voltage_words(before, after),
        policy=str(plan.comparison.policy),
        check_code=plan.check_code,
        program=f"upgrade-planner {__version__}",
    )
