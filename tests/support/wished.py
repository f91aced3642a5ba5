"""Targets made of cars: what a wish gives, and which dangers and warnings it would bring."""

import tempfile
from contextlib import contextmanager
from pathlib import Path

from upgrade_planner.documents.profiles.target_text import TargetHead, target_text
from upgrade_planner.electrical.sizing import load_sized
from upgrade_planner.targets.settling import settled_wish
from upgrade_planner.targets.wish_edits import Target


@contextmanager
def car_file(base, lines=""):
    """A file of a car that is like a shipped one but for some lines."""
    head = f'[configuration]\ntitle = "A car"\nsummary = ""\nbased_on = "{base}"\n'
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "car.toml"
        path.write_text(head + lines, encoding="utf-8")
        yield str(path)


def wished(car, systems=(), **wish):
    """The settled target of a car, by shipped name or path; and the car."""
    (there,) = load_sized(car)
    head = TargetHead(title="wished", summary="", based_on=str(car))
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "target.toml"

        def load(target):
            path.write_text(target_text(target, head), encoding="utf-8")
            return load_sized(str(path))[0]

        return settled_wish(Target(systems=dict(systems), **wish), there, load), there
