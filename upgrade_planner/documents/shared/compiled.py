"""
Templates compiled once, kept beside them as the interpreter keeps its own modules.

Compiling takes longer than filling them. What cannot be written is compiled anew each time.
"""

import sys
from contextlib import suppress
from pathlib import Path
from zlib import crc32

from jinja2 import BytecodeCache, compiler
from jinja2.bccache import Bucket

from upgrade_planner.documents.shared.writing import NotWritten, write_whole


class CompiledTemplates(BytecodeCache):
    """
    Keeps compiled templates in a folder.

    Args:
        folder: Where; it is made if need be.
        settings: Module that says how templates are read.
    """

    def __init__(self, folder: Path, settings: Path) -> None:
        self._folder = folder
        made_by = b"".join(Path(name).read_bytes() for name in (settings, compiler.__file__))
        self._suffix = f"{sys.implementation.cache_tag}.{crc32(made_by):08x}.template"

    def load_bytecode(self, bucket: Bucket) -> None:
        """Fills a bucket from its file; jinja2 takes none of a template that has changed."""
        with suppress(OSError):
            bucket.bytecode_from_string(self._file(bucket).read_bytes())

    def dump_bytecode(self, bucket: Bucket) -> None:
        """Writes a bucket to its file, unless the interpreter shall write none of its own."""
        if not sys.dont_write_bytecode:
            with suppress(OSError, NotWritten):
                self._folder.mkdir(exist_ok=True)
                write_whole(self._file(bucket), bucket.bytecode_to_string())

    def _file(self, bucket: Bucket) -> Path:
        return self._folder / f"{bucket.key}.{self._suffix}"
