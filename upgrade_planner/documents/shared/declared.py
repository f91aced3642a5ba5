"""
Declarations of C libraries that are parsed once, kept as the interpreter keeps its modules.

Parsing those of the PDF engine takes longer than importing the rest of it.
"""

from __future__ import annotations

import sys
from contextlib import suppress
from io import StringIO
from pathlib import Path
from typing import Any
from zlib import crc32

import cffi

from upgrade_planner.documents.shared.writing import NotWritten, write_whole

MODULE = "declared"


class Declared:
    """
    Stands for an FFI of cffi to which declarations are given once.

    Args:
        parse: Makes the FFI that can parse.
        folder: Where to keep what was parsed; it is made if need be.
    """

    def __init__(self, parse: Any, folder: Path) -> None:
        self._parse, self._folder = parse, folder

    def cdef(self, text: str) -> None:
        """Declares; from then on this has all that a compiled FFI has."""
        made_by = "\n".join((self._parse.__module__, cffi.__version__, text)).encode()
        name = f"{sys.implementation.cache_tag}.{crc32(made_by):08x}.declared"
        made = _compiled(self._folder / name) or self._parsed(text, self._folder / name)
        vars(self).update({n: getattr(made, n) for n in dir(made) if not n.startswith("__")})

    def _parsed(self, text: str, file: Path) -> Any:
        from cffi import recompiler

        parsed, source = self._parse(), StringIO()
        parsed.cdef(text)
        parsed.set_source(MODULE, None)
        recompiler.make_py_source(parsed, MODULE, source)
        if not sys.dont_write_bytecode:
            with suppress(OSError, NotWritten):
                file.parent.mkdir(exist_ok=True)
                write_whole(file, source.getvalue().encode())
        return parsed


def _compiled(file: Path) -> Any:
    """The FFI of a file that was kept; None if there is none, or it is spoilt."""
    within: dict[str, Any] = {}
    with suppress(Exception):
        exec(file.read_text("utf-8"), within)
    return within.get("ffi")
