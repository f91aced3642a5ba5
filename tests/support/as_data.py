"""What the JSON of the program says, out of its envelope."""

import json

from upgrade_planner.documents.shared.data_text import PROGRAM


def data_of(text, name=None, **options):
    """
    The data of JSON text, whose envelope is sound.

    Args:
        text: What was written.
        name: Format and version that it must have, such as `("plan", 3)`; None for any.
        **options: For `json.loads`.
    """
    envelope = json.loads(text, **options)
    assert list(envelope) == ["format", "version", "program", "data"]
    family, _, which = envelope["format"].partition(" ")
    assert (family, envelope["program"]) == ("upgrade-planner", PROGRAM)
    assert name in (None, (which, envelope["version"]))
    return envelope["data"]
