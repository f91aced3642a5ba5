"""How every configuration that the program writes begins."""

from upgrade_planner.configuration.structuring.entries import FORMAT


def configuration_head() -> tuple[str, ...]:
    """The table that names it, and the format that the rest is written in."""
    return "[configuration]", f"format = {FORMAT}"
