"""The fingerprint of a configuration: over what `json` would write of its plain value."""

import hashlib
import json
from enum import Enum, IntEnum, StrEnum
from math import inf, nan

from attrs import frozen
from every_case import every_case
from pair_facts import sized

from upgrade_planner.configuration.composing.digest import digest_of, plain_value
from upgrade_planner.configuration.values.rings import Rings


class Word(StrEnum):
    ONE = "onė"


class Number(IntEnum):
    TWO = 2


class Thing(Enum):
    THREE = 3


@frozen
class Held:
    later: object
    earlier: object = None
    rings: object = None
    origin: str = "left out"


def by_json(value):
    return hashlib.sha256(json.dumps(plain_value(value), sort_keys=True).encode()).hexdigest()


@every_case(
    "value",
    [
        *("", 'é\u2028"\\', Word.ONE, Number.TWO, Thing.THREE),
        *(None, True, False, 0, 1, 1.0, -0.0, 0.1, 1e22, 10**30, inf, -inf, nan),
        *((), [], {}, ((1, [2.5]), "a"), {"b": 1, "a": {2: None, "1": ()}}, {Word.ONE: 1, 1: 2}),
        *(Held(1), Held([Held("x", rings=Rings())], True), Held({}, rings=Rings("M6"))),
    ],
)
def test_it_is_over_what_json_would_write(value):
    assert digest_of(value) == by_json(value)


def test_it_is_over_what_json_would_write_of_a_configuration():
    van = sized("van_as_found")
    assert digest_of(van) == by_json(van)
    assert digest_of(van.wires) != digest_of(van.wires[1:])
