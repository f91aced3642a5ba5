"""Signs of alterations that were ticked: each a change, something written down, or a question."""

from collections.abc import Iterable

from attrs import evolve

from upgrade_planner.inspection.recorded import Recorded
from upgrade_planner.inspection.signs import Sign
from upgrade_planner.inspection.walk import Inspection


def with_signs(result: Recorded, found: Iterable[str], walked: Inspection) -> Recorded:
    """
    What a form says, with the signs that were ticked on it.

    A sign is settled by what was written at one of its wires or parts, or at a wire that was added
    there. One that is told by the state of a single part becomes that state. All others are
    questions, with both answers.

    Args:
        result: The lines of the form.
        found: Ids of the signs that were ticked.
        walked: What the form asked for.
    """
    known = {sign.id: sign for sign in walked.signs}
    for name in found:
        if name not in known:
            question = f"sign '{name}': ticked, but not asked for by this form; look again"
            result = evolve(result, questions=(*result.questions, question))
        elif not _is_written(known[name], result):
            result = _with_sign(known[name], result, walked)
    return result


def _is_written(sign: Sign, result: Recorded) -> bool:
    written = {*result.remove_wires, *result.remove_components}
    written |= {entry["id"] for entry in result.change_wires}
    written |= {entry["role"] for entry in result.change_component}
    for entry in (*result.add_wires, *result.change_wires):
        written |= {str(entry.get(end, "")).partition(".")[0] for end in ("from", "to")}
    return not written.isdisjoint(sign.where)


def _with_sign(sign: Sign, result: Recorded, walked: Inspection) -> Recorded:
    parts = [name for name in sign.where if name in walked.configuration.component_by_role]
    if sign.condition and len(parts) == 1:
        entry = {"role": parts[0], "condition": (sign.condition,)}
        doubt = (
            f"part {parts[0]}: taken as '{sign.condition}', for its sign was ticked: {sign.look}"
        )
        return evolve(
            result,
            change_component=(*result.change_component, entry),
            doubts=(*result.doubts, doubt),
        )
    where = f", at {', '.join(sign.where)}" if sign.where else ""
    question = (
        f"{sign.look} Found{where}. 1: it is as the profile has it all the same: delete this "
        f"question. 2: it is not: write down below {sign.record}."
    )
    return evolve(result, questions=(*result.questions, question))
