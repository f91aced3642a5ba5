"""The files of sentences beside this module, each read once."""

import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import Any


@cache
def written_table(name: str) -> Mapping[str, Any]:
    """What `NAME.toml` holds."""
    return tomllib.loads(files(__package__).joinpath(f"{name}.toml").read_text(encoding="utf-8"))
