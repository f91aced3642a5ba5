"""
What the pages show, as plain words and rounded numbers.

Templates only lay these out: no sums and no decisions there. `sheet_view` (in `sheet`) fills them.
"""

from upgrade_planner.attributes import frozen
from upgrade_planner.documents.worksheet.picture_views import FRONT_SECTIONS, FrontPart, WhereView
from upgrade_planner.documents.worksheet.title_block import Identity


@frozen(kw_only=True)
class SafetyMessage:
    """One message about danger."""

    id: str
    word: str
    """DANGER, WARNING, CAUTION or NOTICE."""
    hazard: str
    avoid: str
    if_it_happens: str = ""
    again: bool = False
    """True where an earlier phase has it in full."""


@frozen(kw_only=True)
class Counted:
    """One disposition, how often it occurs, and the class of its line sample."""

    word: str
    style: str
    """keep, remove, add, resize, move or cap."""
    number: int
    meaning: str


@frozen(kw_only=True)
class SummaryRow:
    """One subject before and after."""

    subject: str
    before: str
    after: str


@frozen(kw_only=True)
class FindingView:
    """One finding that the work sheet must show."""

    severity: str
    """danger, warning, caution or note."""
    code: str
    where: str
    what: str
    remedy: str
    title: str = ""
    is_old: bool = False
    """True for what the vehicle has already, short of a danger: told by title and remedy."""


@frozen(kw_only=True)
class Tool:
    """Something to have ready."""

    name: str
    use: str


@frozen(kw_only=True)
class StepView:
    """One step: one action, one tick."""

    number: str
    mark: str
    action: str
    style: str
    instruction: str
    details: tuple[str, ...] = ()
    why: str = ""
    before_you_start: str = ""
    expected: str = ""
    measure_unit: str = ""
    """If not empty, a box for the measured value with this unit inside."""
    hold: str = ""
    """If not empty, this step is a hold point, which a second person signs: "HOLD 2"."""
    tick: str = ""
    """What stands beside its box in a row of several; without, the box stands at the right."""


@frozen(kw_only=True)
class StateReadings:
    """Readings that are taken in one state of the vehicle."""

    state: str
    readings: tuple["ReadingView", ...]


@frozen(kw_only=True)
class CardLine:
    """A terminal of a card, or the part itself: one thing to do, one tick."""

    step: str
    """Number of its step."""
    terminal: str
    """What the terminal is for, with its mark; "" for the part, and for the terminal above."""
    action: str
    style: str
    says_action: bool
    instruction: str
    details: tuple[str, ...]


@frozen(kw_only=True)
class CardView:
    """A part, terminal by terminal."""

    word: str
    """OUT or NEW; "" for a part that stays."""
    lines: tuple[CardLine, ...]
    elsewhere: str
    """Terminals that other rows have, with their numbers; "" if there are none."""


@frozen(kw_only=True)
class RowView:
    """One row of the work sheet: one thing in the hand, a tick for each step at it."""

    number: str
    steps: tuple[StepView, ...]
    mark: str
    action: str
    style: str
    instruction: str
    details: tuple[str, ...]
    why: str
    """Empty unless reasons were asked for."""
    before_you_start: str
    expected: str
    measure_unit: str
    hold: str
    says_action: bool = True
    """False where the instruction begins with the same word."""
    elsewhere: tuple[str, ...] = ()
    """Where the ends are joined that have rows of their own."""
    readings: tuple[StateReadings, ...] = ()
    card: CardView | None = None
    """If it goes through the terminals of a part, which is then its instruction."""


@frozen(kw_only=True)
class Block:
    """Rows that begin at one place."""

    place: str
    rows: tuple[RowView, ...]


@frozen(kw_only=True)
class PhaseView:
    """One lettered phase."""

    letter: str
    title: str
    intro: str
    quality: tuple[str, ...]
    """What a tick of this phase means, said once."""
    safety: tuple[SafetyMessage, ...]
    blocks: tuple[Block, ...]
    colours: str = ""
    """Key to the colour letters of its rows; empty where the rows have the words."""


@frozen(kw_only=True)
class ScheduleRow:
    """One wire that comes, goes or changes."""

    mark: str
    action: str
    style: str
    ends: str
    conductor: str
    """Size, colour code and length in one run; both sizes where it is changed."""
    reason: str
    """Empty unless reasons were asked for."""
    packed: str = ""
    """What the kit has in place of it; "" for just that."""


@frozen(kw_only=True)
class PartRow:
    """One line of the parts and wire list."""

    quantity: str
    item: str
    used_for: str


@frozen(kw_only=True)
class PartGroup:
    """Lines of one kind."""

    heading: str
    rows: tuple[PartRow, ...]


@frozen(kw_only=True)
class ReadingView:
    """One reading to take after the work."""

    number: str
    state: str
    red: str
    black: str
    before: str = ""
    """The same reading before the work, or "not measurable"; empty if nothing is computed."""
    predicted: str = ""
    """Range that the calculation gives, "12.4 to 12.7 V"; empty if there is none."""
    limit: str
    source: str
    """Number of the source of the limit in the list at the end: "3"; empty if there is none."""
    unit: str
    if_not: str


@frozen(kw_only=True)
class BagRow:
    """Something that is taken off and kept."""

    step: str
    tag: str
    what: str
    where: str


@frozen(kw_only=True)
class KeptPartsView:
    """What a job takes off and keeps, or what a way back takes out of the bag."""

    heading: str
    lead: str
    rows: tuple[BagRow, ...]


@frozen(kw_only=True)
class StageRow:
    """One stage of a job in stages."""

    number: str
    is_this: bool
    leads_to: str
    file: str
    steps: str
    hours: str


@frozen(kw_only=True)
class AheadRow:
    """A wire that is fitted in the size of a later stage."""

    wire: str
    planned: str
    fitted: str
    for_stage: str


@frozen(kw_only=True)
class BetweenView:
    """What is known of driving between two stages."""

    heading: str
    verdict: str
    """Two or three words in capitals."""
    text: str
    blocked: bool
    """True if it may not be driven."""
    findings: tuple[FindingView, ...]
    watched: tuple[str, ...]


@frozen(kw_only=True)
class TotalRow:
    """One figure of a job in stages, in one job, and in stages with nothing fitted ahead."""

    subject: str
    stages: str
    direct: str
    without: str


@frozen(kw_only=True)
class StageView:
    """Where a sheet stands among the stages of a job."""

    place: str
    """`Stage 1 of 2`."""
    stages: tuple[StageRow, ...]
    between: BetweenView | None
    """None after the last stage."""
    ahead: tuple[AheadRow, ...]
    ahead_before: tuple[str, ...]
    """Wires of this stage that an earlier one has fitted already."""
    not_ahead: tuple[str, ...]
    undone: tuple[str, ...]
    totals: tuple[TotalRow, ...]
    has_without: bool


@frozen(kw_only=True)
class WayBackView:
    """What a way back undoes, and what it cannot."""

    text: str
    lasting: tuple[SummaryRow, ...]
    """What stays in `subject`, the wires or parts concerned in `before`."""
    to_buy: tuple[str, ...]
    """Wires that must be made new."""


@frozen(kw_only=True)
class SheetView:
    """Everything on the work sheet."""

    identity: Identity
    language: str
    intro: str
    as_found_note: str
    summary: tuple[SummaryRow, ...]
    counts: tuple[Counted, ...]
    notice: tuple[SummaryRow, ...]
    """Figures that driver and owner notice, before and after."""
    findings_before: tuple[FindingView, ...]
    """Dangers and warnings of the vehicle as it is that the job puts right."""
    findings: tuple[FindingView, ...]
    start_conditions: tuple[str, ...]
    tools: tuple[Tool, ...]
    tools_left: int
    """How many of the tools, and start conditions after them, stand in the left half."""
    safety: tuple[SafetyMessage, ...]
    phases: tuple[PhaseView, ...]
    changed: tuple[ScheduleRow, ...]
    """Every wire that does not simply stay."""
    changed_colours: str
    """Key to their colour letters; like that of the wires that stay."""
    kept: tuple[str, ...]
    """Wires that stay as they are, one line each; those that the work comes near, or all."""
    kept_colours: str
    kept_rest: str
    """How many more there are, as a sentence; "" if none."""
    parts: tuple[PartGroup, ...]
    parts_left: int
    """How many of their headings and rows stand in the left half."""
    parts_notes: tuple[str, ...]
    record: tuple[ReadingView, ...]
    """All readings on a page of their own, if it was asked for."""
    sources: tuple[str, ...]
    limits: tuple[str, ...]
    bag: KeptPartsView | None = None
    conversion: tuple[SummaryRow, ...] = ()
    """Parts that stay although ground or voltage change, and what that asks of them."""
    remarks: tuple[str, ...] = ()
    """What else was found at the vehicle."""
    found: tuple[SummaryRow, ...] = ()
    """Wires and parts that are not as they were built: what was found, what becomes of it."""
    stage: StageView | None = None
    way_back: WayBackView | None = None
    where: WhereView | None = None
    front: tuple[FrontPart, ...] = tuple(FrontPart(section=name) for name in FRONT_SECTIONS)
    """Title and what is told with it stand before, phases behind."""
