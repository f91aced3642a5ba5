"""The configuration that an owner wishes, from the car as it is: the call behind `target`."""

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

from attrs import evolve, field

from upgrade_planner.attributes import frozen
from upgrade_planner.comparison.comparing import compare
from upgrade_planner.configuration.files.faults import one_of
from upgrade_planner.configuration.files.shipped import find_profile, name_from
from upgrade_planner.configuration.loading import (
    load_configurations,
    load_profiles_of,
    load_system,
)
from upgrade_planner.configuration.model import Configuration
from upgrade_planner.configuration.values.notation import NotationError
from upgrade_planner.configuration.values.quantities import Dimension, parse_quantity
from upgrade_planner.documents.profiles.target_text import (
    TargetHead,
    question_words,
    target_text,
)
from upgrade_planner.documents.shared.writing import require_target, write_whole
from upgrade_planner.documents.terminal.upgrades import change_words, danger_words, effort_words
from upgrade_planner.documents.terminal.wishes import SlotChoice
from upgrade_planner.documents.words.english import english_for
from upgrade_planner.documents.words.findings import title_words
from upgrade_planner.documents.words.misfits import misfit_words
from upgrade_planner.documents.words.refusals import named_first, refusal_words
from upgrade_planner.electrical.sizing import load_sized
from upgrade_planner.errors import PlannerError
from upgrade_planner.jobs.trial_file import SUFFIX, loader
from upgrade_planner.library.collected import Say
from upgrade_planner.library.fitting import systems_for
from upgrade_planner.library.trait_matching import SYSTEM_VOLTAGES, checked_filter, has_words
from upgrade_planner.planning.plan import plan_for
from upgrade_planner.targets.settling import Load, Settled, grave, settled_wish
from upgrade_planner.targets.wish_edits import Target

NO_EXCITER = "CHG-NO-EXCITE"
WITH_LAMP = ("lamp_and_ammeter", "lamp_and_voltmeter", "lamp_only")
"""Indicators that excite an alternator, tried where it has nothing that does."""


class NotATarget(PlannerError):
    """A wish that the car cannot be given."""


@frozen(kw_only=True)
class Wish:
    """
    What an owner wishes.

    Attributes:
        systems: Words for the system by slot: its name, or words of its title.
        voltage_v: Another system voltage, or None. [V]
        ground: The other grounded post, or "".
        output_a: Rated output of a new charging machine, or None: as the system has it. [A]
    """

    systems: Mapping[str, str] = field(factory=dict)
    voltage_v: float | None = None
    ground: str = ""
    output_a: float | None = None


@frozen(kw_only=True, eq=False)
class WishedCar:
    """
    A target as written.

    Attributes:
        changes: What it changes, hours and dangers, a phrase each.
        decisions: What the owner must still decide: question, what was written, what else.
    """

    target: Path
    configuration: Configuration
    changes: tuple[str, ...]
    decisions: tuple[tuple[str, str, str], ...]


def require_wishable(name: str, path: Path, *, replace: bool) -> None:
    """
    Says before the first question what would only come out after the last.

    Raises:
        PlannerError: no such configuration, or the target cannot be written.
    """
    base = find_profile("configuration", name)
    require_target(path, (SUFFIX,), inputs=[base], is_edited=True, replace=replace)


def target(
    name: str, wish: Wish, path: Path, *, replace: bool = False, say: Say = lambda _: None
) -> WishedCar:
    """
    Writes the configuration that a wish makes of a car.

    Args:
        name: The car as it is: shipped name or file.
        wish: What it shall be.
        path: File to write.
        replace: A file that is there already may be lost.
        say: Told what is being computed.

    Raises:
        NotATarget: nothing is wished, or the car would get dangers or warnings that it has not.
        PlannerError: faulty input, or the target cannot be written.
    """
    require_wishable(name, path, replace=replace)
    (car,) = load_sized(name)
    found = _found(car, wish)
    say("looking for what the wish asks of the rest")
    with loader(car, name, path.parent) as load:
        made = _settled(found, car, load)
    if made.left:
        raise NotATarget(refusal_words(made.left, grave(car), found))
    say("counting the work")
    changes = _changes(car, made.configuration)
    text = target_text(made.target, _head(car, name, path, made.target))
    write_whole(path, text.encode())
    decisions = tuple(map(question_words, made.target.questions))
    return WishedCar(
        target=path, configuration=made.configuration, changes=changes, decisions=decisions
    )


def english_of(name: str, english: str) -> str:
    """
    The English asked for; "" for that of the trade of a car.

    Raises:
        PlannerError: faulty input.
    """
    return english or english_for("", load_configurations(name)[0].vehicle)


def slots_in(name: str) -> Mapping[str, str]:
    """The slots of a car, each with what the system in it is called; "" where it is empty."""
    vehicle, systems = load_profiles_of(name)
    called = {slot: content.system.name for slot, content in systems.items()}
    slots = (*vehicle.vehicle.slots, *vehicle.vehicle.optional_slots)
    return {slot: called.get(slot, "") for slot in slots}


def choices(
    name: str, slot: str, wish: Wish, folder: Path, say: Say = lambda _: None
) -> Iterator[SlotChoice]:
    """
    The systems for one slot, each tried in the car with the rest of the wish.

    Raises:
        PlannerError: faulty input.
    """
    (car,) = load_sized(name)
    others = evolve(wish, systems={s: t for s, t in wish.systems.items() if s != slot})
    with loader(car, name, folder) as load:
        for system in systems_for(slot):
            title = title_of(system)
            if car.systems.get(slot) == system:
                yield SlotChoice(system=system, title=title, is_there=True)
                continue
            say(f"trying {system}")
            with_it = _found(car, evolve(others, systems={**others.systems, slot: system}))
            yield _choice(system, title, with_it, car, load)


def _choice(system: str, title: str, wish: Target, car: Configuration, load: Load) -> SlotChoice:
    try:
        made = _settled(wish, car, load)
    except PlannerError as error:
        reason = _misfit_words(str(error).splitlines()[0])
        return SlotChoice(system=system, title=title, is_there=False, missing=reason)
    if made.left:
        return SlotChoice(system=system, title=title, is_there=False, missing=_titles(made))
    changes = "; ".join(_changes(car, made.configuration))
    return SlotChoice(system=system, title=title, is_there=False, changes=changes)


def _misfit_words(message: str) -> str:
    """Why a system does not load in a car, without the files of the program."""
    return misfit_words(message.partition(": found ")[2].partition("; expected")[0] or message)


def system_meant(slot: str, text: str) -> str:
    """
    The system that a name, a file or a few words mean.

    Raises:
        NotATarget: none, or several.
    """
    names = systems_for(slot)
    if text in names or Path(text).suffix == SUFFIX:
        return text
    found = systems_meant(text, names)
    if len(found) == 1:
        return found[0]
    expected = f"one of: {', '.join(found)}" if found else one_of(text, names, limit=len(names))
    several = ", which may be several" if found else ""
    raise NotATarget(f"--{slot}: found '{text}'{several}; expected {expected}")


def systems_meant(text: str, names: Sequence[str]) -> list[str]:
    """Those of some systems that a name or a few words may mean."""
    searched = {name: f"{name.replace('_', ' ')} {title_of(name)}".lower() for name in names}
    return [name for name in names if has_words(searched[name], text.replace("_", " "))]


def wish_turned(wish: Wish, *, ground: str = "", voltage: str = "") -> Wish:
    """
    A wish with another ground or voltage, from texts as people type them; "" as it was.

    Raises:
        BadFilter: no ground or voltage.
    """
    more = wish_of({}, ground=ground, voltage=voltage, amperes="")
    volts = more.voltage_v if voltage else wish.voltage_v
    return evolve(wish, voltage_v=volts, ground=more.ground or wish.ground)


def title_of(system: str) -> str:
    """What a system is called."""
    return load_system(system)[1].system.name


def with_system(wish: Wish, slot: str, system: str) -> Wish:
    """A wish with one more system."""
    return evolve(wish, systems={**wish.systems, slot: system})


def wish_of(systems: Mapping[str, str], *, ground: str, voltage: str, amperes: str) -> Wish:
    """
    A wish from texts as people type them.

    Raises:
        BadFilter: no ground or voltage.
        NotATarget: no current.
    """
    volts = checked_filter("voltage", voltage, SYSTEM_VOLTAGES) if voltage else ""
    try:
        output_a = parse_quantity(amperes, Dimension.CURRENT) if amperes else None
    except NotationError as error:
        raise NotATarget(f"--output-current: found {error.found}; expected 42 A") from error
    return Wish(
        systems=dict(systems),
        voltage_v=float(volts) if volts else None,
        ground=checked_filter("ground", ground, ()) if ground else "",
        output_a=output_a,
    )


def _found(car: Configuration, wish: Wish) -> Target:
    """The wish as a target without edits."""
    systems = {slot: system_meant(slot, text) for slot, text in wish.systems.items()}
    systems = {slot: name for slot, name in systems.items() if car.systems.get(slot) != name}
    voltage_v = None if wish.voltage_v == car.vehicle.voltage_v else wish.voltage_v
    ground = "" if wish.ground == car.vehicle.ground else wish.ground
    if not systems and voltage_v is None and not ground:
        raise NotATarget(
            f"target: found nothing that {car.name} has not already; expected another system, "
            "ground or voltage, such as --ignition trigger_module_full_voltage"
        )
    return Target(systems=systems, voltage_v=voltage_v, ground=ground, output_a=wish.output_a)


def _settled(wish: Target, car: Configuration, load: Load) -> Settled:
    """The wish with all it asks; with a charge lamp where the machine wants one to wake up."""
    made = settled_wish(wish, car, load)
    wants_lamp = any(finding.code == NO_EXCITER for finding in made.left)
    if not wants_lamp or "indicator" not in car.systems or "indicator" in wish.systems:
        return made
    for indicator in WITH_LAMP:
        systems = {**wish.systems, "indicator": indicator}
        with_lamp = settled_wish(evolve(wish, systems=systems), car, load)
        if not with_lamp.left:
            return with_lamp
    return made


def _titles(made: Settled) -> str:
    titles = (f"{title_words(one)} ({named_first(one)})" for one in made.left)
    return "; ".join(dict.fromkeys(titles))


def _changes(car: Configuration, made: Configuration) -> tuple[str, ...]:
    comparison = compare(car, made)
    dangers = [finding for finding in grave(made) if finding.severity == "danger"]
    return (
        change_words(comparison),
        effort_words(plan_for(comparison)),
        danger_words(dangers),
    )


def _head(car: Configuration, name: str, path: Path, made: Target) -> TargetHead:
    chosen = {slot: title_of(system) for slot, system in made.systems.items()}
    wishes = [*chosen.values()]
    wishes += [f"{made.voltage_v:g} V"] if made.voltage_v else []
    wishes += [f"{made.ground} ground"] if made.ground else []
    wished = "; ".join(wishes)
    return TargetHead(
        title=f"{car.title.partition(', to be')[0].removesuffix(', as found')}, to be: {wished}",
        summary=f"{car.title} with: {wished}. Everything else stays as it is.",
        based_on=name_from(name, path),
        opening=(
            f"What shall become of {name}. All that is not named here stays as it is there.",
            f"Next: upgrade-planner worksheet {name} {path} -o sheet.pdf",
        ),
        chosen=chosen,
    )
