"""
Writes documents whole or not at all: beside their targets first, then renamed over them.

The rules for what is there already, for all commands: an output that is also an input is refused;
what people fill or edit is replaced only on request; papers are replaced by papers. An existing
file keeps its mode, a write-protected one is not replaced, a symbolic link is written through, and
nothing but a regular file is ever written to.
"""

import os
import shutil
import stat
import tempfile
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path

from upgrade_planner.errors import PlannerError


class NotWritten(PlannerError):
    """The target cannot be written."""


def require_target(
    target: Path,
    suffixes: Sequence[str] = (),
    *,
    inputs: Iterable[Path | str | None] = (),
    is_edited: bool = False,
    replace: bool = False,
) -> None:
    """
    Says at once what would only come out after all the computing.

    Args:
        target: File to write.
        suffixes: Those that it may have, in small letters; any if empty.
        inputs: What the target is made from: paths, or names that may be paths.
        is_edited: People fill or edit such a file, so one that is there may hold their work.
        replace: They said that it may be lost.

    Raises:
        NotWritten: the target has another suffix, is no regular file, protected, an input or
            somebody's work, or its folder is missing.
    """
    if suffixes and target.suffix.lower() not in suffixes:
        wanted = suffixes[0] if len(suffixes) == 1 else f"one of {', '.join(suffixes)}"
        raise NotWritten(f"{target}: found the suffix '{target.suffix}'; expected {wanted}")
    if target.is_dir():
        raise NotWritten(f"{target}: found a folder; expected the name of a file")
    real = _written_through(target)
    if not real.parent.is_dir():
        raise NotWritten(f"{target}: found no folder {real.parent}; expected an existing folder")
    if not os.path.lexists(real):
        return
    mode = real.stat().st_mode
    if not stat.S_ISREG(mode):
        raise NotWritten(f"{target}: found a pipe or device; expected the name of a regular file")
    paths = (Path(os.path.expanduser(one)) for one in inputs if one is not None)
    if any(os.path.exists(path) and path.samefile(real) for path in paths):
        raise NotWritten(
            f"{target}: found a file that this is made from; expected the name of another file"
        )
    if not mode & 0o222 or not os.access(real, os.W_OK):
        raise NotWritten(
            f"{target}: found a write-protected file; expected another name, or write permission"
        )
    if is_edited and not replace:
        raise NotWritten(
            f"{target}: found a file of that name; expected a new name, or --replace to lose it"
        )


def _written_through(target: Path) -> Path:
    """The file that a symbolic link leads to, or the target itself."""
    if not target.is_symlink():
        return target
    try:
        return target.resolve()
    except (OSError, RuntimeError) as error:
        raise NotWritten(
            f"{target}: found a symbolic link that leads round a circle; "
            "expected the name of a file"
        ) from error


@contextmanager
def folder_for(target: Path | None) -> Iterator[None]:
    """
    Makes the folder of a file while it is written; gone again if nothing comes of it.

    Raises:
        NotWritten: it cannot be made.
    """
    folder = None if target is None or target.parent.is_dir() else target.parent
    try:
        if folder is not None:
            folder.mkdir()
    except OSError as error:
        raise NotWritten(
            f"{folder}: found no folder that can be made ({error.strerror}); expected a writable "
            "folder around it"
        ) from error
    try:
        yield
    except BaseException:
        if folder is not None:
            folder.rmdir()
        raise


def write_whole(target: Path, content: bytes, *, is_edited: bool = False) -> None:
    """
    Puts `content` in place of `target`; an existing file is replaced only by a whole new one.

    Args:
        target: File to write.
        content: What it shall hold.
        is_edited: People fill or edit such a file; `require_target` has asked for their leave.

    Raises:
        NotWritten: as `require_target`, or the folder is not writable, or the file that is there
            may hold somebody's work.
    """
    write_all({target: content}, is_edited=is_edited)


def write_all(contents: Mapping[Path, bytes], *, is_edited: bool = False) -> None:
    """
    Writes several documents, all of them or none; existing files are replaced by whole new ones.

    Args:
        contents: What each file shall hold.
        is_edited: As `write_whole`.

    A power cut between two renamings can leave some targets new and others old, and hidden files
    beside them (`.NAME.….part`, `.NAME.….old`); each target is whole all the same.

    Raises:
        NotWritten: one of them cannot be written; all targets are as they were before.
    """
    for target, content in contents.items():
        require_target(target)
        if not is_edited:
            _require_paper(target, content)
    written: dict[Path, Path] = {}
    try:
        for target, content in contents.items():
            written[_written_through(target)] = _beside(_written_through(target), content)
        _replace_all(written)
    finally:
        for beside in written.values():
            beside.unlink(missing_ok=True)


def _require_paper(target: Path, content: bytes) -> None:
    real = _written_through(target)
    if not real.exists():
        return
    from upgrade_planner.documents.shared.peoples_work import work_in  # it reads tables and forms

    found = work_in(real, content)
    if found:
        raise NotWritten(f"{target}: found {found}, somebody's work; expected another name")


def _beside(target: Path, content: bytes) -> Path:
    """The content in a file of its own beside its target, with the target's mode."""
    try:
        handle, name = tempfile.mkstemp(
            prefix=f".{target.name[:100]}.", suffix=".part", dir=target.parent
        )
    except OSError as error:
        raise NotWritten(
            f"{target}: found a folder that cannot be written ({error.strerror}); "
            "expected an existing, writable folder"
        ) from error
    beside = Path(name)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
        beside.chmod(_mode_for(target))
    except BaseException as error:  # broken off, too: nothing half written stays
        beside.unlink(missing_ok=True)
        if isinstance(error, OSError):
            raise NotWritten(f"{target}: not written ({error.strerror})") from error
        raise
    return beside


def _mode_for(target: Path) -> int:
    if target.exists():
        return stat.S_IMODE(target.stat().st_mode)
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask


def _replace_all(written: Mapping[Path, Path]) -> None:
    """Renames each over its target; what was there comes back if one of them fails."""
    kept: dict[Path, Path | None] = {}
    done: list[Path] = []
    try:
        for target, beside in written.items():
            kept[target] = _kept(target) if len(written) > 1 else None
            beside.replace(target)
            done.append(target)
    except BaseException as error:
        for earlier in done:
            _put_back(earlier, kept[earlier])
        if isinstance(error, OSError):
            raise NotWritten(f"{target}: not written ({error.strerror})") from error
        raise
    finally:
        for old in kept.values():
            if old is not None:
                old.unlink(missing_ok=True)


def _kept(target: Path) -> Path | None:
    """A second name for what the target holds now, or a copy; None if there is no such file."""
    if not target.exists():
        return None
    old = target.with_name(f".{target.name[:100]}.{os.getpid()}.old")
    old.unlink(missing_ok=True)
    try:
        os.link(target, old)
    except OSError:  # a file system without second names
        shutil.copy2(target, old)
    return old


def _put_back(target: Path, old: Path | None) -> None:
    if old is not None:
        old.replace(target)
    else:
        target.unlink(missing_ok=True)
