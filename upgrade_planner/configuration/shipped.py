"""Finds the profiles and templates that ship with the program, in a wheel or a checkout."""

from pathlib import Path

from upgrade_planner.configuration.faults import nearest
from upgrade_planner.errors import PlannerError

PROFILE_FOLDERS = {
    "vehicle": "vehicles",
    "system": "systems",
    "configuration": "configurations",
}


class UnknownProfile(PlannerError):
    """A name that is neither a file nor a shipped profile."""


def shipped_folder(name: str) -> Path:
    """
    Folder `profiles` or `templates`: inside the installed package, or beside it in a checkout.

    Raises:
        PlannerError: neither place has it; the installation is incomplete.
    """
    package = Path(__file__).resolve().parent.parent
    for candidate in (package / name, package.parent / name):
        if candidate.is_dir():
            return candidate
    raise PlannerError(f"the folder '{name}' is missing beside {package}; install again")


def shipped_profiles(kind: str) -> dict[str, Path]:
    """Shipped profiles of one kind (`vehicle`, `system`, `configuration`) by name."""
    folder = shipped_folder("profiles") / PROFILE_FOLDERS[kind]
    return {path.stem: path for path in sorted(folder.glob("*.toml"))}


def find_profile(kind: str, name: str, beside: Path | None = None) -> Path:
    """
    The file that `name` means: a shipped profile, or a path (relative to the file naming it).

    Raises:
        UnknownProfile: neither; the message gives the nearest shipped name.
    """
    shipped = shipped_profiles(kind)
    looks_like_path = name.endswith(".toml") or "/" in name or "\\" in name
    if name in shipped and not looks_like_path:
        return shipped[name]
    path = (beside.parent if beside else Path()) / Path(name).expanduser()
    if path.exists():
        return path
    guess = nearest(Path(name).stem, shipped)
    hint = f"did you mean '{guess}'? " if guess else ""
    raise UnknownProfile(
        f"found '{name}', which is neither a file nor a shipped {kind}; expected {hint}"
        f"(shipped: {', '.join(shipped)})"
    )
