"""Plants known wiring mistakes in shipped configurations, so that rules can be tried on them."""

from pathlib import Path

from attrs import frozen

from upgrade_planner.checks.checking import RULES
from upgrade_planner.configuration.loading import load_configuration
from upgrade_planner.configuration.model import Configuration

HEAD = """[configuration]
title = "planted"
summary = "A shipped configuration with one mistake."
based_on = "{base}"

"""


@frozen(kw_only=True)
class Mistake:
    """
    One mistake of a workshop.

    Attributes:
        id: Short name.
        words: What somebody did, in plain words.
        bases: Shipped configurations it can be made on.
        as_found: Text of the `[as_found]` table, heading included.
        codes: Findings that must name it.
        names: Parts or wires that those findings must point at.
        severity: The least that one of those findings must be; "" where any will do.
        is_double: True if two things were done at once, each of which may be told first.
    """

    id: str
    words: str
    bases: tuple[str, ...]
    as_found: str
    codes: tuple[str, ...]
    names: tuple[str, ...] = ()
    severity: str = ""
    is_double: bool = False


def planted(mistake: Mistake, base: str, folder: Path) -> Configuration:
    """The base with the mistake in it."""
    file = folder / f"{mistake.id}_{base}.toml"
    file.write_text(HEAD.format(base=base) + mistake.as_found, encoding="utf-8")
    return load_configuration(str(file))


def rules_of(*modules):
    """The rules of these modules, in the order in which they are run."""
    names = {module.__name__ for module in modules}
    return [rule for rule in RULES if rule.__module__ in names]
