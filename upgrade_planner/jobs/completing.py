"""Names that a shell completes; imports little, for it waits with every key."""

from upgrade_planner.configuration.files.shipped import PROFILE_FOLDERS, shipped_profiles


def configurations_from(begin: str) -> list[str]:
    """Shipped configurations whose names begin so."""
    return [name for name in shipped_profiles("configuration") if name.startswith(begin)]


def profiles_from(begin: str) -> list[str]:
    """Shipped configurations, vehicles and systems whose names begin so."""
    names = (name for kind in PROFILE_FOLDERS for name in shipped_profiles(kind))
    return [name for name in names if name.startswith(begin)]
