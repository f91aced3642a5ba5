"""Files that are there already and may hold what somebody typed in."""

import zipfile
from pathlib import Path

from upgrade_planner.configuration.tables.workbooks import CREATOR
from upgrade_planner.inspection.filled_form import has_fields

_CORE = "docProps/core.xml"


def work_in(path: Path, content: bytes) -> str:
    """
    What a file holds that `content` would not bring again, in words; "" if it is a paper of ours.

    A table is ours if its head is that of the content, a workbook if this program made it, a PDF
    if it has no fields to fill.

    Args:
        path: An existing file.
        content: What would be written in its place.
    """
    suffix = path.suffix.lower()
    if suffix == ".csv" and _head(path.read_bytes()) not in (b"", _head(content)):
        return "a table with other columns"
    if suffix == ".xlsx" and not _is_our_workbook(path):
        return "a workbook that another program made"
    if suffix == ".pdf" and has_fields(path):
        return "a form to fill"
    return ""


def _head(table: bytes) -> bytes:
    return table.lstrip(b"\xef\xbb\xbf").partition(b"\n")[0].strip()


def _is_our_workbook(path: Path) -> bool:
    try:
        with zipfile.ZipFile(path) as packed:
            return f"<dc:creator>{CREATOR}</dc:creator>".encode() in packed.read(_CORE)
    except (zipfile.BadZipFile, KeyError, OSError):
        return path.stat().st_size == 0
