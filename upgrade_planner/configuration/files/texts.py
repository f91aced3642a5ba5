"""Reads the text of one file, with every way it can go wrong told in one line."""

import codecs
import contextlib
import os
import stat
from pathlib import Path

from upgrade_planner.errors import ConfigurationError, Problem

LARGEST_FILE_BYTES = 1_000_000
"""Source: our assumption; the largest shipped profile is about a fiftieth of it."""

_SPECIAL = (
    (stat.S_ISDIR, "a folder"),
    (stat.S_ISFIFO, "a pipe"),
    (stat.S_ISSOCK, "a socket"),
    (stat.S_ISCHR, "a device"),
    (stat.S_ISBLK, "a device"),
)


def read_text(path: Path, wanted: str) -> str:
    """
    The text of a file, whatever is in it.

    Args:
        path: The file.
        wanted: What should be there, such as `a TOML file`.

    Raises:
        ConfigurationError: not a plain file, unreadable, too large, empty or not UTF-8.
    """
    name = str(path)
    raw = read_bytes(path, wanted)
    text = decoded(name, raw)
    if not text.strip():
        raise ConfigurationError([refused(name, "an empty file", A_PROFILE)])
    return text


def decoded(name: str, raw: bytes) -> str:
    """
    Text of the bytes of a file: UTF-8, or the UTF-16 that some spreadsheets save, by its mark.

    Raises:
        ConfigurationError: neither.
    """
    if raw.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        with contextlib.suppress(UnicodeDecodeError):
            return raw.decode("utf-16")
    if raw[:2].count(0) == 1:  # one of the two bytes of a first Latin letter
        found = "UTF-16 text without its byte order mark"
        raise ConfigurationError([refused(name, found, "a text file saved as UTF-8")])
    try:
        return raw.decode("utf-8").removeprefix("\N{BYTE ORDER MARK}")
    except UnicodeDecodeError as error:
        raise ConfigurationError([_not_utf8(name, raw, error)]) from error


A_PROFILE = "a profile; `upgrade-planner show NAME` prints an example"
"""What a file should be that is none of the program's."""


def read_bytes(path: Path, wanted: str, largest: int = LARGEST_FILE_BYTES) -> bytes:
    """
    The content of a file, whatever is in it.

    Args:
        path: The file.
        wanted: What should be there, such as `a TOML file`.
        largest: Bytes it may have.

    Raises:
        ConfigurationError: not a plain file, unreadable or too large.
    """
    name = str(path)
    try:
        mode = path.stat().st_mode
        if not stat.S_ISREG(mode):  # reading a pipe or device might never end
            found = next((words for is_it, words in _SPECIAL if is_it(mode)), "no plain file")
            raise ConfigurationError([refused(name, found, wanted)])
        with path.open("rb") as handle:
            raw = handle.read(largest + 1)
            size = os.fstat(handle.fileno()).st_size
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "a name that no file can have"
        found = f"a file that cannot be read ({reason.lower()})"
        raise ConfigurationError([refused(name, found, f"{wanted} that can be read")]) from error
    if len(raw) > largest:
        found = f"a file of {max(size, len(raw)) / 1e6:.1f} MB"
        expected = f"{wanted} of at most {largest / 1e6:.0f} MB"
        raise ConfigurationError([refused(name, found, expected)])
    return raw


def _not_utf8(name: str, raw: bytes, error: UnicodeDecodeError) -> Problem:
    line_start = raw.rfind(b"\n", 0, error.start) + 1
    return Problem(
        file=name,
        line=raw.count(b"\n", 0, error.start) + 1,
        column=len(raw[line_start : error.start].decode("utf-8")) + 1,
        found=f"byte 0x{raw[error.start]:02X}, which is not UTF-8 text",
        expected="a text file saved as UTF-8",
    )


def refused(name: str, found: str, expected: str) -> Problem:
    """What is wrong with a file as a whole."""
    return Problem(file=name, found=found, expected=expected)
