"""Writes a document whole or not at all: beside its target first, then renamed over it."""

import os
import tempfile
from pathlib import Path

from upgrade_planner.errors import PlannerError


class NotWritten(PlannerError):
    """The target cannot be written."""


def require_target(target: Path) -> None:
    """
    Says at once what would only come out after all the computing.

    Raises:
        NotWritten: the target is a folder, or its folder is missing.
    """
    if target.is_dir():
        raise NotWritten(f"{target}: found a folder; expected the name of a file")
    if not target.parent.is_dir():
        raise NotWritten(f"{target}: found no folder {target.parent}; expected an existing folder")


def write_whole(target: Path, content: bytes) -> None:
    """
    Puts `content` in place of `target`; an existing file is replaced only by a whole new one.

    Raises:
        NotWritten: the folder is missing or not writable, or the target is a folder.
    """
    require_target(target)
    try:
        handle, name = tempfile.mkstemp(prefix=f".{target.name}.", dir=target.parent)
    except OSError as error:
        raise NotWritten(
            f"{target}: found a folder that cannot be written ({error.strerror}); "
            "expected an existing, writable folder"
        ) from error
    beside = Path(name)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
        beside.chmod(0o666 & ~_umask())
        beside.replace(target)
    except OSError as error:
        raise NotWritten(f"{target}: not written ({error.strerror})") from error
    finally:
        beside.unlink(missing_ok=True)


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
