"""
Imports the PDF engine, and spares it what our pages never ask for.

What is spared changes nothing on a paper: declarations of libraries are parsed once, not in each
command; styles of all elements of HTML, its parser and tools for other fonts come only when asked
for; nothing is styled, laid out or set twice alike (`quick_styles`, `quick_layout`,
`quick_drawing`), a border is a bar for each side (`plain_borders`); what is written is packed well,
not to the last byte.
"""

from __future__ import annotations

import ctypes.util
import sys
import warnings
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache, partial
from importlib import import_module
from types import ModuleType, SimpleNamespace
from typing import Any

from upgrade_planner.configuration.files.shipped import shipped_folder
from upgrade_planner.documents.shared.picture_text import draw_line_of_text
from upgrade_planner.documents.shared.plain_borders import draw_plain_borders
from upgrade_planner.documents.shared.quick_drawing import draw_quickly
from upgrade_planner.documents.shared.quick_layout import lay_out_quickly
from upgrade_planner.documents.shared.quick_styles import style_quickly
from upgrade_planner.errors import PlannerError

ENGINE_PACKAGES = "libpangoft2-1.0-0 libharfbuzz-subset0"
NO_SYSTEM_FONTS = ".*Expect ugly output"  # harmless: our fonts travel with the sheet
NOT_FOR_OUR_PAGES = (
    "fontTools.subset",
    "fontTools.ttLib",
    "fontTools.varLib.instancer",
    "tinyhtml5",
)
"""Parsers of what is not well formed, tools for variable fonts and without libharfbuzz-subset."""


class MissingLibrary(PlannerError):
    """The PDF engine is there, but not the system libraries it needs."""


def pdf_engine() -> Any:
    """
    The PDF library; importing it costs a quarter of a second, so only a PDF pays for it.

    Raises:
        MissingLibrary: system libraries of the PDF engine are missing.
    """
    try:
        with (
            warnings.catch_warnings(),
            _libraries_by_file(),
            _kept_declarations(),
            _imported_later(),
            _styles_later(),
        ):
            warnings.filterwarnings("ignore", message=NO_SYSTEM_FONTS)
            import weasyprint
    except OSError as error:
        raise MissingLibrary(
            f"PDF output needs system libraries that are not installed ({error}); "
            f"on Debian: sudo apt-get install -y {ENGINE_PACKAGES}"
        ) from error
    import pydyf
    from weasyprint.svg import TAGS

    pydyf.zlib = SimpleNamespace(compress=zlib.compress, compressobj=_packing)
    TAGS["text"] = draw_line_of_text
    style_quickly()
    lay_out_quickly()
    draw_quickly()
    draw_plain_borders()
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


def _packing(level: int) -> Any:
    """Of the usual strength: the strongest takes three times as long and spares 4 %."""
    return zlib.compressobj()


class _Later(ModuleType):
    """A module that is imported when something of it is used."""

    def __getattr__(self, name: str) -> Any:
        if name.startswith("__"):
            raise AttributeError(name)
        return _Named(self.__name__, name)


class _Named:
    """What a module has under a name; the module is imported when this is called or looked into."""

    def __init__(self, module: str, name: str) -> None:
        self._where = module, name

    def _itself(self) -> Any:
        module, name = self._where
        return getattr(import_module(module), name)

    def __call__(self, *given: Any, **named: Any) -> Any:
        return self._itself()(*given, **named)

    def __getattr__(self, name: str) -> Any:
        return getattr(self._itself(), name)


@contextmanager
def _imported_later() -> Iterator[None]:
    """What our pages do not need is imported when somebody does."""
    later = {name: _Later(name) for name in NOT_FOR_OUR_PAGES if name not in sys.modules}
    sys.modules.update(later)
    try:
        yield
    finally:
        for name in later:
            del sys.modules[name]


@contextmanager
def _styles_later() -> Iterator[None]:
    """
    The engine's own styles are parsed when a page asks for them.

    It parses them when it is imported; ours bring their own (see `own_page`).
    """
    if "weasyprint" in sys.modules:
        yield
        return
    import tinycss2

    parse = tinycss2.parse_stylesheet
    tinycss2.parse_stylesheet = lambda text: []
    try:
        yield
    finally:
        tinycss2.parse_stylesheet = parse
    import weasyprint

    weasyprint.HTML._ua_stylesheets = lambda page, forms=False: _all_styles()[: 2 if forms else 1]
    weasyprint.HTML._ph_stylesheets = lambda page: _all_styles()[2:]
    weasyprint.HTML._ua_counter_style = lambda page: [_all_styles()[0].counters.copy()]


@cache
def _all_styles() -> list[Any]:
    """Of the engine: for all elements of HTML, for fields, and for what attributes hint at."""
    from weasyprint import CSS, html
    from weasyprint.css.counters import CounterStyle

    counters = CounterStyle()
    texts = (html.UA, html.UA_FORM, html.PH)
    sheets = [CSS(string=text, counter_style=counters) for text in texts]
    sheets[0].counters = counters
    return sheets
