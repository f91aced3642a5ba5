"""Why a system does not fit a vehicle, in words for those who know cars and not files."""

import re

from upgrade_planner.configuration.files.faults import with_article
from upgrade_planner.documents.words.wording import role_words

NAMED = {
    "ignition": "live with the key on",
    "start_signal": "live with the key in start",
    "main": "the point where battery, loads and charge wire meet",
    "battery_feed": "the stud with the battery's heavy cable",
    "instrument_ground": "the ground of the instruments",
}
"""Terminals that systems ask for by the name of their job."""

_NO_TERMINAL = re.compile(r"no terminal named '(\w+)'")
_NO_ROLE = re.compile(r"no role '(\w+)'$")
_NO_PLACE = re.compile(r"no place for the role '(\w+)'")


def misfit_words(missing: str) -> str:
    """What stands against a system, without files and names of the program."""
    named = _NO_TERMINAL.search(missing)
    if named:
        return f"nothing on it is {NAMED.get(named[1]) or with_article(role_words(named[1]))}"
    place = _NO_PLACE.search(missing)
    if place:
        return f"no place on it is given for {with_article(role_words(place[1]))}"
    role = _NO_ROLE.search(missing)
    return f"it has no {role_words(role[1])}" if role else missing
