"""Names that a shell completes; imports little, for it waits with every key."""

from upgrade_planner.configuration.files.headers import header_of
from upgrade_planner.configuration.files.shipped import PROFILE_FOLDERS, shipped_profiles


def profiles_from(begin: str, *kinds: str) -> list[str]:
    """Shipped profiles whose names begin so, of some kinds or all."""
    names = (name for kind in kinds or PROFILE_FOLDERS for name in shipped_profiles(kind))
    return [name for name in names if name.startswith(begin)]


def systems_from(begin: str, slot: str) -> list[str]:
    """Shipped systems for a slot whose names begin so."""
    paths = shipped_profiles("system")
    return [
        name
        for name in profiles_from(begin, "system")
        if header_of("system", paths[name]).get("slot") == slot
    ]


def kinds_from(begin: str) -> list[str]:
    """Kinds of component whose names begin so."""
    from upgrade_planner.configuration.registry import kinds

    return [name for name in kinds() if name.startswith(begin)]


def formats_from(begin: str) -> list[str]:
    """Files with a schema whose names begin so."""
    from upgrade_planner.documents.schemas.named import NAMES

    return [name for name in NAMES if name.startswith(begin)]
