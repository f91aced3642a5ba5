"""Writes a document whole or not at all: beside its target first, then renamed over it."""

import os
import tempfile
from collections.abc import Mapping
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
    write_all({target: content})


def write_all(contents: Mapping[Path, bytes]) -> None:
    """
    Writes several documents, all of them or none; existing files are replaced by whole new ones.

    Raises:
        NotWritten: one of them cannot be written; all targets are as they were before.
    """
    for target in contents:
        require_target(target)
    written: dict[Path, Path] = {}
    try:
        for target, content in contents.items():
            written[target] = _beside(target, content)
        _replace_all(written)
    finally:
        for beside in written.values():
            beside.unlink(missing_ok=True)


def _beside(target: Path, content: bytes) -> Path:
    """The content in a file of its own beside its target."""
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
    except OSError as error:
        beside.unlink(missing_ok=True)
        raise NotWritten(f"{target}: not written ({error.strerror})") from error
    return beside


def _replace_all(written: Mapping[Path, Path]) -> None:
    """Renames each over its target; what was there comes back if one of them fails."""
    kept: dict[Path, Path | None] = {}
    try:
        for target, beside in written.items():
            kept[target] = _kept(target) if len(written) > 1 else None
            beside.replace(target)
    except OSError as error:
        for done, old in kept.items():
            _put_back(done, old, is_failed=done == target)
        raise NotWritten(f"{target}: not written ({error.strerror})") from error
    for old in kept.values():
        if old is not None:
            old.unlink(missing_ok=True)


def _kept(target: Path) -> Path | None:
    """A second name for what the target holds now; None if there is no such file."""
    if not target.exists():
        return None
    old = target.with_name(f".{target.name}.{os.getpid()}.old")
    old.unlink(missing_ok=True)
    os.link(target, old)
    return old


def _put_back(target: Path, old: Path | None, *, is_failed: bool) -> None:
    if old is not None:
        old.replace(target)
    elif not is_failed:
        target.unlink(missing_ok=True)


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
