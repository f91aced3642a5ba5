"""A picture in a sentence or two, for whoever cannot see it."""

from collections import Counter

from upgrade_planner.documents.drawings.lines import ORDER
from upgrade_planner.documents.drawings.picture import Picture
from upgrade_planner.documents.words.quantities import counted


def state_in_words(picture: Picture) -> str:
    """The wires of a picture that shows one state, and the parts that they join."""
    wires = ", ".join(line.wire.id for line in picture.scene.lines)
    parts = ", ".join(picture.scene.union.part(role).name for role in picture.scene.roles)
    return f"{picture.title}. Wires: {wires or 'none'}. Parts: {parts or 'none'}."


def alternative_of(picture: Picture) -> str:
    """What happens to how many wires of which names; what stays is only counted."""
    lines = picture.scene.lines
    kept = sum(line.stays for line in lines)
    by_action = Counter(line.action for line in lines if not line.stays)
    told = []
    for action in ORDER:
        if by_action[action]:
            names = ", ".join(line.change.mark for line in lines if line.action is action)
            told.append(f"{str(action).upper()} {names}")
    changed = "; ".join(told) or "no wire changes"
    stays = counted(kept, "drawn wire stays as it is", "drawn wires stay as they are")
    return f"{picture.title}. {changed}. {stays}."
