"""
Reads a filled survey form: a spreadsheet, the PDF with its fields, or the fields as JSON.

Fields are named `line:id:column`, those to tick `line:id:column:word`.
"""

import json
import logging
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

from attrs import field

from upgrade_planner.attributes import frozen
from upgrade_planner.configuration.files.faults import one_of, quoted
from upgrade_planner.configuration.files.texts import read_text
from upgrade_planner.configuration.tables.spreadsheet import Row, Table, column_names, read_table
from upgrade_planner.configuration.tables.wire_csv import COLUMNS as WIRE_COLUMNS
from upgrade_planner.configuration.tables.wire_csv import REQUIRED as WIRE_REQUIRED
from upgrade_planner.errors import ConfigurationError, Problem
from upgrade_planner.inspection.form_lines import COLUMNS, FILLED, FORM, KINDS

if TYPE_CHECKING:
    from pypdf import PdfReader

WANTED = "a filled survey form: .csv, .pdf or .json, or a CSV file of wires"
NEEDED = ("line", "id")
HEAD = "head"
"""Fields about the survey itself: who looked, when."""
SIGN = "sign:"
HEAD_COLUMNS = ("by", "date", "odometer")
TICKED = ("present", "condition", "conductor_found", "use_measured")
CODE_WORDS = "survey form code "
"""Stands before the check code in the keywords of the PDF."""

LARGEST_PDF_BYTES = 20_000_000
"""Our assumption: about a hundred times a filled form."""
MOST_PDF_REMARKS = 200
"""Our assumption: a form that a viewer has saved draws a handful of remarks at most."""
MOST_PDF_ROOTS_TRIED = 100
"""Our assumption: a file that lost its catalog is not worth a search through all its objects."""

NO_PAGES: Mapping[str, int] = MappingProxyType({})
"""Pages of fields that stand in no PDF."""

_OFF = ("", "/off", "off", "false", "no", "none", "0")


@frozen(kw_only=True)
class FilledForm:
    """
    The lines of a form.

    Attributes:
        rows: One a line; from fields, in the order of the fields.
        is_european: True if commas are decimal for certain.
        has_units: True if the unit of a measured value is printed in its box, or beside it.
        head: Who looked, when, odometer; as written.
        signs: Signs of alterations that were ticked as found; None if the form cannot say.
    """

    rows: tuple[Row, ...]
    is_european: bool = False
    has_units: bool = False
    head: Mapping[str, str] = field(factory=dict)
    signs: tuple[str, ...] | None = None


def read_form(path: Path) -> FilledForm | Table:
    """
    A filled form, or a spreadsheet of wires (`show NAME -o wires.csv`), told by its columns.

    Raises:
        ConfigurationError: the file cannot be read or is neither; all that is wrong with it.
    """
    name = str(path)
    if _starts_with(path, b"%PDF"):
        return _from_pdf(path)
    if path.is_file() and not path.stat().st_size:
        raise _refused(name, "an empty file", WANTED)
    text = read_text(path, WANTED)
    if path.suffix.lower() == ".json" or text.lstrip()[:1] == "{":
        return _from_fields(name, _json_fields(name, text))
    header = column_names(text)
    if "line" not in header and {"circuit", "from"} <= set(header):
        return read_table(name, text, WIRE_COLUMNS, WIRE_REQUIRED, WANTED)
    table = read_table(name, text, COLUMNS, NEEDED, WANTED)
    return FilledForm(rows=table.rows, is_european=table.is_european, has_units=True)


def _starts_with(path: Path, mark: bytes) -> bool:
    try:
        if not path.is_file():  # a pipe would wait for ever; read_text says what it is
            return False
        with path.open("rb") as file:
            return file.read(len(mark)) == mark
    except (OSError, ValueError):
        return False


# JSON -------------------------------------------------------------------------------------------


def _json_fields(file: str, text: str) -> dict[str, Any]:
    repeated: list[str] = []

    def pairs(items: list[tuple[str, Any]]) -> dict[str, Any]:
        seen: dict[str, Any] = {}
        for key, value in items:
            if key in seen:
                repeated.append(key)
            seen[key] = value
        return seen

    try:
        data = json.loads(text, object_pairs_hook=pairs)
    except json.JSONDecodeError as error:
        raise _refused(file, f"no JSON ({error.msg})", WANTED, error.lineno, error.colno) from error
    except RecursionError as error:
        raise _refused(file, "brackets nested too deep", "one object of fields") from error
    except ValueError as error:  # Python reads no number of thousands of digits
        raise _refused(file, "a number of thousands of digits", "numbers of a few") from error
    if not isinstance(data, dict):
        raise _refused(file, "JSON that is no object", 'fields and values: {"wire:…:present": "x"}')
    if repeated:
        names = ", ".join(quoted(key) for key in dict.fromkeys(repeated))
        raise _refused(file, f"the field {names} a second time", "each field once")
    return data


def _refused(
    file: str, found: str, expected: str, line: int = 0, column: int = 0
) -> ConfigurationError:
    problem = Problem(file=file, line=line, column=column, found=found, expected=expected)
    return ConfigurationError([problem])


# PDF --------------------------------------------------------------------------------------------


def _from_pdf(path: Path) -> FilledForm:
    name = str(path)
    try:
        size = path.stat().st_size
    except OSError as error:
        raise _refused(name, f"a file that cannot be read ({error.strerror})", WANTED) from error
    if size > LARGEST_PDF_BYTES:
        most = f"at most {LARGEST_PDF_BYTES // 1_000_000} MB"
        raise _refused(name, f"a PDF of {size // 1_000_000} MB", most)
    fields, pages, code = _pdf_fields(path)
    if not fields:
        found = "a PDF without fields to fill (printed or scanned?)"
        raise _refused(name, found, "the form as 'survey' wrote it, filled on the screen")
    if not all(isinstance(key, str) for key in fields):
        raise _refused(name, "a field whose name is no text", "the form as 'survey' wrote it")
    filled = {key: _pdf_value(value) for key, value in fields.items()}
    return _from_fields(name, {FORM: code, **filled} if code else filled, pages)


def has_fields(path: Path) -> bool:
    """Whether a PDF has fields to fill; one that cannot be read has none."""
    try:
        return bool(_pdf_fields(path)[0])
    except ConfigurationError:
        return False


def _pdf_fields(path: Path) -> tuple[dict[str, Any], dict[str, int], str]:
    """The fields of a PDF, the page of each, and the code of the form; empty if it has none."""
    from pypdf import PdfReader
    from pypdf.errors import PyPdfError

    try:
        with _remarks_counted():
            reader = PdfReader(path, root_object_recovery_limit=MOST_PDF_ROOTS_TRIED)
            if reader.is_encrypted:
                wanted = "the form without a password"
                raise _refused(str(path), "a PDF locked by a password", wanted)
            words = str(reader.metadata.get("/Keywords", "")) if reader.metadata else ""
            _, _, code = words.partition(CODE_WORDS)
            fields = dict(reader.get_fields() or {})
            return fields, _pages_of_fields(reader) if fields else {}, code.strip()
    except ConfigurationError:
        raise
    except (
        PyPdfError,
        OSError,
        ValueError,
        KeyError,
        TypeError,
        AttributeError,
        RecursionError,
    ) as error:
        found = f"a PDF that cannot be read ({type(error).__name__})"
        raise _refused(str(path), found, "the form as 'survey' wrote it, filled") from error


def _pages_of_fields(reader: "PdfReader") -> dict[str, int]:
    """Page of each field by its name, from 1; of one that stands on several the first."""
    pages: dict[str, int] = {}
    for number, page in enumerate(reader.pages, start=1):
        for note in page.annotations or ():
            name = note.get_object().get("/T")
            if name is not None:
                pages.setdefault(str(name), number)
    return pages


@contextmanager
def _remarks_counted() -> Iterator[None]:
    """
    Ends the reading of a PDF after so many remarks of the reading library.

    It mends what it can and remarks on it; with a broken table of objects it remarks on each byte
    that may begin one, for as long as a minute. Its remarks are no use to a reader.
    """
    from pypdf.errors import PdfReadError

    class Counting(logging.Handler):
        left = MOST_PDF_REMARKS

        def emit(self, record: logging.LogRecord) -> None:
            self.left -= 1
            if self.left < 0:
                raise PdfReadError("damaged in too many places")

    logger = logging.getLogger("pypdf")
    counting, spread, level = Counting(), logger.propagate, logger.level
    logger.addHandler(counting)
    logger.propagate = False
    logger.setLevel(logging.WARNING)
    try:
        yield
    finally:
        logger.removeHandler(counting)
        logger.propagate = spread
        logger.setLevel(level)


def _pdf_value(value: Any) -> str:
    written = value.get("/V", "") if hasattr(value, "get") else value
    return "" if written is None else str(written)


# Fields -----------------------------------------------------------------------------------------


def _from_fields(
    file: str, fields: Mapping[str, Any], pages: Mapping[str, int] = NO_PAGES
) -> FilledForm:
    problems: list[Problem] = []
    on_page: dict[tuple[str, str], int] = {}
    rows: dict[tuple[str, str], dict[str, str]] = {}
    head: dict[str, str] = {}
    signs: list[str] = []
    code = " ".join(str(fields.get(FORM, "")).split())  # print joins it with a no-break space
    for name, value in fields.items():
        if name == FORM:
            continue
        if name.startswith(SIGN):
            signs += [name.removeprefix(SIGN)] if _is_on(value) else []
            continue
        faults: list[Problem] = []
        where, text = _parted(file, name, value, faults)
        problems += (replace(fault, page=pages.get(name, 0)) for fault in faults)
        if where is None or not text.strip():
            continue
        kind, item, column = where
        if kind == HEAD:
            head[column] = text.strip()
        else:
            cells = rows.setdefault((kind, item), {})
            on_page.setdefault((kind, item), pages.get(name, 0))
            cells[column] = f"{cells[column]}, {text}" if column in cells else text
    if problems:
        raise ConfigurationError(problems)
    filled = tuple(_rows(file, rows, on_page, code))
    return FilledForm(rows=filled, has_units=True, head=head, signs=tuple(signs))


def _rows(
    file: str,
    rows: Mapping[tuple[str, str], Mapping[str, str]],
    pages: Mapping[tuple[str, str], int],
    code: str,
) -> Iterator[Row]:
    for (kind, item), cells in rows.items():
        known = {"line": kind, "id": item, **({FORM: code} if code else {})}
        yield Row(file, 0, {**known, **cells}, {}, pages[kind, item])


def _parted(
    file: str, name: str, value: Any, problems: list[Problem]
) -> tuple[tuple[str, str, str] | None, str]:
    """Line, id and column of a field, and its text; None with a fault if it is no field of ours."""
    kind, _, rest = name.partition(":")
    if kind == HEAD and rest in HEAD_COLUMNS:
        return (HEAD, "", rest), _text(file, name, value, problems)
    item, _, column = rest.partition(":")
    column, _, word = column.partition(":")
    if kind not in KINDS or column not in FILLED or (word and column not in TICKED):
        expected = _field_expected(kind, column)
        found = f"unknown field {quoted(name)}"
        problems.append(Problem(file=file, subject=name[:80], found=found, expected=expected))
        return None, ""
    text = _text(file, name, value, problems)
    if word:
        text = word if _is_on(text) else ""
    elif isinstance(value, bool) or column in TICKED:
        text = "yes" if text.lower() in ("true", "/on", "on") else text
        text = "" if text.lower() in ("/off", "off") else text
    return (kind, item, column), text


def _is_on(value: Any) -> bool:
    return value is not None and value is not False and str(value).strip().lower() not in _OFF


def _field_expected(kind: str, column: str) -> str:
    if kind not in KINDS:
        return f"line:id:column; the line {one_of(kind, KINDS)}"
    return f"line:id:column; the column {one_of(column, FILLED, limit=len(FILLED))}"


def _text(file: str, name: str, value: Any, problems: list[Problem]) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else ""
    if isinstance(value, str | int | float):
        return str(value)
    found = "a list" if isinstance(value, list) else "a table"
    problems.append(
        Problem(file=file, subject=name[:80], found=found, expected="a text, or true if ticked")
    )
    return ""
