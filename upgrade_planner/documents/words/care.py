"""Care for worn wires and parts in words: the sentences of `care.toml`."""

from collections.abc import Mapping

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.conditions import Condition, Conditions
from upgrade_planner.configuration.model import Component, Wire
from upgrade_planner.documents.words.wording import part_words
from upgrade_planner.documents.words.written import written_table
from upgrade_planner.planning.operations import CareForPart, CareForWire, FindCause

OHM = "Ω"


@frozen(kw_only=True)
class CareWords:
    """
    A step that looks after something.

    Attributes:
        unit: Unit of the value to write down, or "".
    """

    mark: str
    instruction: str
    details: tuple[str, ...]
    expected: str
    unit: str = ""


def care_words(operation: CareForWire | CareForPart | FindCause) -> CareWords:
    """Such a step in words."""
    match operation:
        case CareForWire(wire=wire, conditions=conditions):
            return _care("wire", wire.id, wire.id, conditions, wire.note)
        case CareForPart(part=part):
            return _care("part", part.role, part_words(part), part.condition, part.note)
        case FindCause(item=item):
            texts, sort = _texts()["cause"], _sort(item)
            return CareWords(
                mark=_mark(item),
                instruction=texts[sort].format(name=_name(item)),
                details=(texts["detail"], *((item.note,) if item.note else ())),
                expected=texts["expected"],
            )


def care_line(operation: CareForWire | CareForPart | FindCause) -> str:
    """Such a step in one line."""
    texts = _texts()["line"]
    match operation:
        case CareForWire(wire=wire, conditions=conditions):
            return texts["wire"].format(name=wire.id, found=condition_words(conditions))
        case CareForPart(part=part):
            found = condition_words(part.condition)
            return texts["part"].format(name=part_words(part), found=found)
        case FindCause(item=item):
            return texts["cause"].format(name=_name(item))


def condition_words(conditions: Conditions) -> str:
    """Conditions in a row."""
    return ", ".join(conditions)


def _care(sort: str, mark: str, name: str, conditions: Conditions, note: str) -> CareWords:
    texts = _texts()[sort]
    return CareWords(
        mark=mark,
        instruction=texts["instruction"].format(name=name, found=condition_words(conditions)),
        details=(*(texts[condition] for condition in conditions), *((note,) if note else ())),
        expected=texts["expected"],
        unit=OHM if Condition.MEASURED_OFF in conditions else "",
    )


def _sort(item: Wire | Component) -> str:
    return "wire" if isinstance(item, Wire) else "part"


def _mark(item: Wire | Component) -> str:
    return item.id if isinstance(item, Wire) else item.role


def _name(item: Wire | Component) -> str:
    return item.id if isinstance(item, Wire) else part_words(item)


def _texts() -> Mapping[str, Mapping[str, str]]:
    return written_table("care")
