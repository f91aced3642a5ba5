"""What comes from the car and not from the wish, in words."""

from attrs import evolve

from upgrade_planner.configuration.model import Configuration
from upgrade_planner.documents.words.quantities import counted
from upgrade_planner.planning.own_car import Beyond, OwnJob

MOST_NAMED = 30
"""Wires and parts that are named one by one; our assumption, more are no longer read."""


def beyond_words(beyond: Beyond) -> str:
    """One sentence: what a shipped target changes only because the car is not the shipped one."""
    fates = beyond.fates
    named = [f"{name} ({fate})" for name, fate in list(fates.items())[:MOST_NAMED]]
    more = f" and {len(fates) - MOST_NAMED} more" if len(fates) > MOST_NAMED else ""
    return (
        f"{counted(len(fates), 'change')} to {beyond.target} not from the upgrade itself but from "
        f"differences between {beyond.car} and the shipped {beyond.reference}: "
        f"{', '.join(named)}{more}. To keep what is there: upgrade-planner target, with "
        f"{beyond.car} as the car."
    )


def with_remarks(loaded: OwnJob) -> tuple[Configuration, ...]:
    """The configurations of a job; the sheet prints what comes from the car among its remarks."""
    if not loaded.beyond:
        return loaded.configurations
    car, *targets = loaded.configurations
    remarks = tuple(map(beyond_words, loaded.beyond))
    return (evolve(car, as_found_remarks=(*car.as_found_remarks, *remarks)), *targets)
