"""Finds the profiles and templates that ship with the program, in a wheel or a checkout."""

import os
from functools import cache
from pathlib import Path

from upgrade_planner.configuration.values.notation import nearest_words
from upgrade_planner.errors import PlannerError, printable

PROFILE_FOLDERS = {
    "vehicle": "vehicles",
    "system": "systems",
    "configuration": "configurations",
}

LONGEST_PATH = 500
"""Characters of a path that a message repeats; our assumption."""


class UnknownProfile(PlannerError):
    """A name that is neither a file nor a shipped profile."""

    def __init__(self, found: str, expected: str) -> None:
        self.found = found
        self.expected = expected
        super().__init__(printable(f"found {found}; expected {expected}"))


@cache
def shipped_folder(name: str) -> Path:
    """
    Folder `profiles` or `templates`: inside the installed package, or beside it in a checkout.

    Raises:
        PlannerError: neither place has it; the installation is incomplete.
    """
    package = Path(__file__).resolve().parents[2]
    for candidate in (package / name, package.parent / name):
        if candidate.is_dir():
            return candidate
    raise PlannerError(f"the folder '{name}' is missing beside {package}; install again")


def shipped_profiles(kind: str) -> dict[str, Path]:
    """Shipped profiles of one kind (`vehicle`, `system`, `configuration`) by name."""
    return dict(_profiles_in(shipped_folder("profiles") / PROFILE_FOLDERS[kind]))


@cache  # a command asks some thirty times, and what ships stays as it is
def _profiles_in(folder: Path) -> dict[str, Path]:
    return {path.stem: path for path in sorted(folder.glob("*.toml"))}


def find_profile(kind: str, name: str, beside: Path | None = None) -> Path:
    """
    The file that `name` means: a shipped profile, or a path (relative to the file naming it).

    Raises:
        UnknownProfile: neither; the message gives the nearest name.
    """
    shipped = shipped_profiles(kind)
    if name in shipped:
        return shipped[name]
    try:
        path = (beside.parent if beside else Path()) / Path(name).expanduser()
        if name.strip() and path.exists():
            return path
        raise _unknown(kind, name, path, shipped)
    except (OSError, RuntimeError, ValueError) as error:  # too long a name, no such home, …
        reason = getattr(error, "strerror", None) or str(error)
        found = f"{_quoted(name)}, a name that cannot be looked up ({reason.lower()})"
        raise UnknownProfile(found, f"a file or a shipped {kind}") from error


def _quoted(path: str) -> str:
    from upgrade_planner.configuration.files.faults import quoted  # slow, seldom needed

    return quoted(path, longest=LONGEST_PATH)


MOST_NAMED = 12
"""Names that a message lists; our assumption, more are not read."""


def _some_of(kind: str, name: str, shipped: dict[str, Path]) -> str:
    if len(shipped) <= MOST_NAMED:
        return f"one of: {', '.join(shipped)}"
    like = nearest_words(name, shipped, most=4) or list(shipped)[:4]
    return f"one of {len(shipped)} {kind}s ('upgrade-planner list'): {', '.join(like)}, …"


def _unknown(kind: str, name: str, path: Path, shipped: dict[str, Path]) -> UnknownProfile:
    from upgrade_planner.configuration.files.faults import nearest  # slow, seldom needed

    expected = f"a file, or {_some_of(kind, name, shipped)}"
    if path.is_symlink():
        return UnknownProfile(f"{_quoted(name)}, a link to a file that is not there", expected)
    other = next((word for word in PROFILE_FOLDERS if name in shipped_profiles(word)), None)
    if other is not None:
        return UnknownProfile(f"{_quoted(name)}, which is a {other}, not a {kind}", expected)
    looks_like_path = path.suffix == ".toml" or len(path.parts) > 1
    if looks_like_path and not path.parent.is_dir():
        found = f"{_quoted(name)}, in a folder that does not exist"
        return UnknownProfile(found, expected)
    files = [item.name for item in path.parent.glob("*.toml")]
    guess = nearest(path.name, files) if path.suffix == ".toml" else ""
    guess = guess or nearest(path.stem, shipped)
    hint = f" (did you mean '{guess}'?)" if guess else ""
    found = f"{_quoted(name)}, which is neither a file nor a shipped {kind}{hint}"
    return UnknownProfile(found, expected)


def name_from(name: str, file: Path) -> str:
    """A configuration as another file must name it: shipped, or a path from that file's folder."""
    shipped = shipped_profiles("configuration")
    if name in shipped:
        return name
    path = find_profile("configuration", name).resolve()
    try:
        way = os.path.relpath(path, file.parent.resolve())
    except ValueError:  # another drive
        way = str(path)
    written = Path(way).as_posix()
    return f"./{written}" if written in shipped else written
