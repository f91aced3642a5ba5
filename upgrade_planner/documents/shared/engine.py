"""
Imports the PDF engine, and spares it what our pages never ask for.

What is spared changes no byte of a paper: declarations of libraries are parsed once, not in each
command; tools that cut fonts down come only where libharfbuzz-subset is missing; elements get no
styles for notes and markers that they cannot have: six for each element, of seven; a line of text
is not set anew to be drawn.
"""

from __future__ import annotations

import ctypes.util
import sys
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from copy import copy
from functools import cache, partial
from importlib import import_module
from types import ModuleType
from typing import Any

from upgrade_planner.configuration.files.shipped import shipped_folder
from upgrade_planner.documents.shared.picture_text import draw_line_of_text
from upgrade_planner.errors import PlannerError

ENGINE_PACKAGES = "libpangoft2-1.0-0 libharfbuzz-subset0"
NO_SYSTEM_FONTS = ".*Expect ugly output"  # harmless: our fonts travel with the sheet
FOR_OTHER_FONTS = ("fontTools.subset", "fontTools.varLib.instancer")
NOTES = ("footnote-call", "footnote-marker", "note-call", "note-marker", "note-callback")
NOT_EVERYWHERE = (*NOTES, "marker")
PSEUDO_ELEMENT = 3
"""Where a selector of the engine names what it is for beside the element itself."""


class MissingLibrary(PlannerError):
    """The PDF engine is there, but not the system libraries it needs."""


def pdf_engine() -> Any:
    """
    The PDF library; importing it costs a quarter of a second, so only a PDF pays for it.

    Raises:
        MissingLibrary: system libraries of the PDF engine are missing.
    """
    try:
        with warnings.catch_warnings(), _libraries_by_file(), _kept_declarations(), _font_tools():
            warnings.filterwarnings("ignore", message=NO_SYSTEM_FONTS)
            import weasyprint
    except OSError as error:
        raise MissingLibrary(
            f"PDF output needs system libraries that are not installed ({error}); "
            f"on Debian: sudo apt-get install -y {ENGINE_PACKAGES}"
        ) from error
    from weasyprint.svg import TAGS
    from weasyprint.text import line_break

    TAGS["text"] = draw_line_of_text
    line_break.Layout = _kept_lines()
    return weasyprint


@contextmanager
def _libraries_by_file() -> Iterator[None]:
    """
    On Linux the engine's libraries are found under the names of their files alone.

    It tries the names of other systems first, and for each of these the interpreter asks the
    compiler and the linker, if there are any: fifty processes before the first page.
    """
    ask = ctypes.util.find_library
    if sys.platform == "linux":
        ctypes.util.find_library = lambda name: None
    try:
        yield
    finally:
        ctypes.util.find_library = ask


@contextmanager
def _kept_declarations() -> Iterator[None]:
    """What the engine declares of its libraries is parsed once and kept beside our templates."""
    import cffi

    from upgrade_planner.documents.shared.declared import Declared

    parse = cffi.FFI
    cffi.FFI = partial(Declared, parse, shipped_folder("templates") / "__pycache__")
    try:
        yield
    finally:
        cffi.FFI = parse


class _Later(ModuleType):
    """A module that is imported when something of it is called."""

    def __getattr__(self, name: str) -> Any:
        if name.startswith("__"):
            raise AttributeError(name)

        def called(*given: Any, **named: Any) -> Any:
            return getattr(import_module(self.__name__), name)(*given, **named)

        return called


@contextmanager
def _font_tools() -> Iterator[None]:
    """Tools for variable fonts, and for systems without libharfbuzz-subset, come when called."""
    later = {name: _Later(name) for name in FOR_OTHER_FONTS if name not in sys.modules}
    sys.modules.update(later)
    try:
        yield
    finally:
        for name in later:
            del sys.modules[name]


@cache
def _kept_lines() -> Any:
    """Lines of text that are drawn as they were laid out; the engine forgets and sets them anew."""
    from weasyprint.text.line_break import Layout

    class KeptLine(Layout):  # type: ignore[misc]
        def deactivate(self) -> None:
            """Nothing is forgotten: a sheet has a few thousand lines."""

        def reactivate(self, style: Any) -> None:
            if style is not self.style or self.justification_spacing:
                super().reactivate(style)

    return KeptLine


@cache
def sheet_without_notes() -> Any:
    """The engine's own styles of HTML: markers for items of lists alone, and no notes."""
    from weasyprint.html import UA_STYLESHEET

    sheet, matcher = copy(UA_STYLESHEET), copy(UA_STYLESHEET.matcher)
    everywhere = matcher.other_selectors
    markers = [entry for entry in everywhere if entry[PSEUDO_ELEMENT] == "marker"]
    names = dict(matcher.lower_local_name_selectors)
    matcher.lower_local_name_selectors = {**names, "li": [*names.get("li", ()), *markers]}
    matcher.other_selectors = [e for e in everywhere if e[PSEUDO_ELEMENT] not in NOT_EVERYWHERE]
    sheet.matcher = matcher
    return sheet
