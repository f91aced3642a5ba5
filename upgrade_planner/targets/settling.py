"""Makes a wish whole: carries the car over, converts what minds, and cures what is found."""

from collections.abc import Callable, Iterable, Sequence

from attrs import evolve

from upgrade_planner.attributes import frozen
from upgrade_planner.checks.causes import every
from upgrade_planner.checks.checking import check
from upgrade_planner.checks.findings import Finding, Severity, SubjectForm
from upgrade_planner.configuration.model import Configuration
from upgrade_planner.errors import PlannerError
from upgrade_planner.targets.carrying import carried, fed_elsewhere
from upgrade_planner.targets.changing_over import rated_output, turned_over
from upgrade_planner.targets.cures import cures
from upgrade_planner.targets.guards import Bench
from upgrade_planner.targets.wish_edits import Edit, Target

Load = Callable[[Target], Configuration]
"""The configuration that a target makes of the car; raises PlannerError if it makes none."""

GRAVE = (Severity.DANGER, Severity.WARNING)

MOST_ROUNDS = 12
"""Rounds of cures; our assumption, most targets need three."""

TOO_THIN = ("DROP-", "PROT-OUTPUT", "CHG-OUTPUT")
"""Beginnings of the codes of findings about copper that is too thin."""

MOST_SEQUELS = 3
"""Cures that are followed further though they leave no less by themselves; our assumption."""

STEPS_AHEAD = 3
"""Rounds that such a cure is followed; our assumption."""

WEIGHTS = {Severity.DANGER: 10, Severity.WARNING: 3}
"""How much worse a finding makes a target; our assumption."""


@frozen(kw_only=True, eq=False)
class Settled:
    """
    A target as far as it could be brought.

    Attributes:
        left: Dangers and warnings that no cure took away; of a wish those that the car has not.
    """

    target: Target
    configuration: Configuration
    left: tuple[Finding, ...]


def grave(configuration: Configuration) -> tuple[Finding, ...]:
    """Dangers and warnings of a configuration."""
    return tuple(finding for finding in check(configuration) if finding.severity in GRAVE)


def brought_findings(target: Configuration, car: Configuration) -> tuple[Finding, ...]:
    """
    Dangers and warnings of a target that the car has not.

    The car has one if a finding of the same code, no less grave, names one of the same things; or
    if it has all that makes it grave: it and what follows from it, some of it as grave.
    """
    there = tuple(every(grave(car)))
    return tuple(one for one in grave(target) if not _is_there(one, there))


def _faulty(car: Configuration) -> frozenset[str]:
    """Wires of a car that are too thin for what they carry."""
    thin = (finding for finding in every(grave(car)) if finding.code.startswith(TOO_THIN))
    subjects = (subject for finding in thin for subject in finding.subjects)
    return frozenset(one.name for one in subjects if one.form is SubjectForm.WIRE)


def _is_there(one: Finding, there: Sequence[Finding]) -> bool:
    """True if a finding is among others as grave as it; or it and all that follows from it are."""
    gravity = list(Severity)
    same = [[old for old in there if _is_alike(each, old)] for each in every((one,))]
    counted = [old for olds in same for old in olds] if all(same) else same[0]
    return any(gravity.index(old.severity) <= gravity.index(one.severity) for old in counted)


def _is_alike(one: Finding, old: Finding) -> bool:
    return one.code == old.code and bool(set(one.subjects) & set(old.subjects))


def settled_wish(wish: Target, car: Configuration, load: Load) -> Settled:
    """
    A wish with all that it asks of the car.

    Args:
        wish: Systems, voltage and ground, without edits.
        car: The car as it is, sizes chosen.
        load: Makes the configuration of a target.

    Raises:
        PlannerError: the systems do not fit the car.
    """
    plain = load(wish)
    target = wish.with_edits((*rated_output(plain, wish), *carried(car, plain, _faulty(car))))
    fed, where = fed_elsewhere(car, load(target))
    target = target.with_edits(fed)
    edits, questions = turned_over(load(target), car, wish.systems)
    target = evolve(target.with_edits(edits), questions=(*questions, *where))
    return _cured(target, car, load)


def converted_car(wish: Target, car: Configuration, load: Load) -> Settled:
    """
    The same car on another voltage or ground: what minds it is for that, nothing is added.

    Args:
        wish: Voltage and ground, without systems and edits.
        car: The car as it would be without them.
        load: Makes the configuration of a target.

    Raises:
        PlannerError: the car does not load on that voltage or ground.
    """
    edits, questions = turned_over(load(wish), car, {})
    target = evolve(wish.with_edits(edits), questions=questions, may_add=False)
    return _cured(target, car, load)


def mended_car(car: Configuration, load: Load) -> Settled:
    """The same car with the remedies of its dangers and warnings, as far as they are known."""
    return _cured(Target(systems={}, cures_car=True), car, load)


Tried = list[tuple[Target, "Settled | None"]]
"""Targets that were tried, each with what it came to; None of one that does not load."""


@frozen(eq=False)
class _Work:
    """What a target is cured against: the car, how it loads, what is tried first, what was."""

    car: Configuration
    load: Load
    told_first: bool
    tried: Tried


def _cured(target: Target, car: Configuration, load: Load) -> Settled:
    """Cured the mildest way first; where that ends in a finding, as the remedies say."""
    start, tried = _judged(target, car, load), Tried()
    if target.cures_car:
        return _cured_from(start, _Work(car, load, True, tried))
    mild = _cured_from(start, _Work(car, load, False, tried))
    if not mild.left:
        return mild
    return min(mild, _cured_from(start, _Work(car, load, True, tried)), key=_badness)


def _cured_from(start: Settled, work: _Work) -> Settled:
    best = start
    for _ in range(MOST_ROUNDS):
        if not best.left:
            break
        better = _all_at_once(best, work) or _one_by_one(best, work)
        if better is None:
            break
        best = better
    return best


def _judged(target: Target, car: Configuration, load: Load) -> Settled:
    made = load(target)
    left = grave(made) if target.cures_car else brought_findings(made, car)
    return Settled(target=target, configuration=made, left=left)


def _badness(settled_: Settled) -> int:
    return sum(WEIGHTS[finding.severity] for finding in settled_.left)


def _bench(best: Settled, work: _Work) -> Bench:
    chosen = frozenset(best.target.systems)
    return Bench(
        configuration=best.configuration,
        car=work.car,
        chosen=chosen,
        may_add=best.target.may_add,
        told_first=work.told_first,
    )


def _all_at_once(best: Settled, work: _Work) -> Settled | None:
    """The first cure of every finding together, if that leaves less."""
    bench = _bench(best, work)
    first = [next(cures(finding, bench), ()) for finding in best.left]
    return _tried(best, (edit for cure in first for edit in cure), work)


def _one_by_one(best: Settled, work: _Work) -> Settled | None:
    """The first cure that leaves less, by itself or with what it asks for in its turn."""
    bench = _bench(best, work)
    no_better = []
    for cure in (cure for finding in best.left for cure in cures(finding, bench)):
        changed = _changed(best, cure, work)
        if changed is not None and _badness(changed) < _badness(best):
            return changed
        if changed is not None:
            no_better.append(changed)
    sequels = (_followed(one, best, work) for one in no_better[:MOST_SEQUELS])
    return next((one for one in sequels if one is not None), None)


def _followed(one: Settled, best: Settled, work: _Work) -> Settled | None:
    """A target that leaves no less, cured some rounds further until it does."""
    for _ in range(STEPS_AHEAD):
        first = [next(cures(finding, _bench(one, work)), ()) for finding in one.left]
        then = _changed(one, [edit for cure in first for edit in cure], work)
        if then is None or _badness(then) < _badness(best):
            return then
        one = then
    return None


def _tried(best: Settled, edits: Iterable[Edit], work: _Work) -> Settled | None:
    made = _changed(best, edits, work)
    return made if made is not None and _badness(made) < _badness(best) else None


def _changed(best: Settled, edits: Iterable[Edit], work: _Work) -> Settled | None:
    """A target with more edits; None if they change nothing or do not load."""
    changed = best.target.with_edits(edits)
    if changed == best.target:
        return None
    for target, made in work.tried:
        if target == changed:
            return made
    work.tried.append((changed, _judged_or_none(changed, work)))
    return work.tried[-1][1]


def _judged_or_none(target: Target, work: _Work) -> Settled | None:
    try:
        return _judged(target, work.car, work.load)
    except PlannerError:
        return None
