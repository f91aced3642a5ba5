"""A target is tried by loading it, through a file beside the one that is to be written."""

import os
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from upgrade_planner.configuration.files.shipped import name_from
from upgrade_planner.configuration.model import Configuration
from upgrade_planner.documents.profiles.target_text import TargetHead, target_text
from upgrade_planner.electrical.sizing import load_sized
from upgrade_planner.targets.settling import Load
from upgrade_planner.targets.wish_edits import Target

SUFFIX = ".toml"


@contextmanager
def loader(car: Configuration, name: str, folder: Path) -> Iterator[Load]:
    """Loads targets through a file beside the one to be written."""
    handle, trial = tempfile.mkstemp(prefix=".trial-", suffix=SUFFIX, dir=folder)
    os.close(handle)
    head = TargetHead(title=car.title, summary="", based_on=name_from(name, Path(trial)))

    def load(wish: Target) -> Configuration:
        Path(trial).write_text(target_text(wish, head), encoding="utf-8")
        return load_sized(trial)[0]

    try:
        yield load
    finally:
        Path(trial).unlink(missing_ok=True)
