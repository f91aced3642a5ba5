"""
Every shipped car with every system, and generated as-found cars: what a target would bring.

    python tests/benchmarks/targets.py [EVERY] [GENERATED]

EVERY is the step through all cars and systems (1: all of them, half an hour); GENERATED how many
cars with random alterations are tried with a random system. Accepted targets hold the rule by how
they are made; it is proven again from their text. What is refused is listed with its findings.
"""

import random
import sys
from collections import Counter
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "support"))

from wished import car_file, wished

from upgrade_planner.configuration.files.shipped import shipped_profiles
from upgrade_planner.configuration.loading import load_configuration, load_system
from upgrade_planner.errors import PlannerError
from upgrade_planner.targets.settling import brought_findings

NOT_OFFERED = (" a slot ", "no terminal named", "no place for")
"""What a message says of a system that asks for what the vehicle has not."""

THINNER = ("18 SAE", "16 SAE", "14 SAE")


def altered(name, dice):
    """As-found lines: a wire made thinner, one measured longer, one taken out."""
    wires = load_configuration(name).wires
    thin, long, gone = dice.sample([w.id for w in wires if w.conductor == "copper"], 3)
    return f"""
[as_found]
remove_wires = ["{gone}"]
change_wires = [
  {{ id = "{thin}", size = "{dice.choice(THINNER)}" }},
  {{ id = "{long}", length = "{dice.randint(1, 40) / 10:g} m" }},
]
"""


def tried(car, slot, system, told, name):
    """Counts one wish: accepted, refused with its findings, or not for this vehicle at all."""
    try:
        made, there = wished(car, {slot: system})
    except PlannerError as error:
        reason = str(error).splitlines()[0]
        is_misfit = any(words in reason for words in NOT_OFFERED)
        told["not for this vehicle" if is_misfit else "does not load"] += 1
        if not is_misfit:
            print(name, "+", system, reason, flush=True)
        return
    if made.left:
        told["refused"] += 1
        print(name, "+", system, *(f"{f.code}:{f.where[0]}" for f in made.left), flush=True)
    else:
        assert not brought_findings(made.configuration, there)
        told["accepted"] += 1


def main(every=16, generated=20):
    """Prints what is refused, and the counts."""
    dice, told = random.Random(7), Counter()
    names = sorted(shipped_profiles("configuration"))
    slots = {s: load_system(s)[1].system.slot for s in sorted(shipped_profiles("system"))}
    pairs = [(name, system) for name in names for system in slots]
    for name, system in pairs[::every]:
        if load_configuration(name).systems.get(slots[system]) != system:
            tried(name, slots[system], system, told, name)
    for number in range(generated):
        name, system = dice.choice(pairs)
        with car_file(name, altered(name, dice)) as car:
            tried(car, slots[system], system, told, f"{name} altered {number}")
    print(dict(told))


if __name__ == "__main__":
    main(*map(int, sys.argv[1:]))
