"""Spoils a file as accidents and strangers do: bytes, lines, cells, values."""

import io
import json
import random
from functools import lru_cache

HOSTILE = (
    "",
    "-1",
    "0",
    "1e999",
    "nan",
    "9" * 400,
    "2,5",
    "12",
    "=1+1",
    "@SUM(A1)",
    "x" * 5000,
    "a\x00b",
    "\u202egnp.exe",
    "\x1b[31mred",
    "../../etc/passwd",
    "日本",
    "'",
    '"',
    "[[[[[[",
    "{{ 7*7 }}",
    "<script>alert(1)</script>",
    "%s%n",
    "true",
    "2026-02-30",
    "alternator.output",
    "14 SAE",
    "\N{OHM SIGN}",
)
"""Texts that programs have stumbled over, and values of the wrong sort."""


def spoilt(content: bytes, suffix: str, rnd: random.Random) -> bytes:
    """The content with one to three things wrong in it; now and then with none."""
    for turn in range(rnd.choice((0, 1, 1, 1, 2, 3))):
        ways = [_bytes]
        if suffix in (".toml", ".csv", ".json"):
            ways += [_lines, _value, _value]
        if suffix == ".csv":
            ways += [_cells, _cells]
        if suffix == ".json":
            ways += [_fields, _fields]
        if suffix == ".xlsx":
            ways = [_bytes, _workbook, _workbook]
        if suffix == ".pdf":
            # a PDF with other entries takes seconds to make; of a spoilt one it may never end
            ways = [_bytes] * 9 + [_form] * (turn == 0)
        content = rnd.choice(ways)(content, rnd)
    return content


def _bytes(content, rnd):
    if not content:
        return b"\0"
    at, length = rnd.randrange(len(content)), rnd.choice((1, 1, 2, 8, 100))
    piece = content[at : at + length]
    return rnd.choice(
        (
            content[:at],
            content[:at] + content[at + length :],
            content[:at] + piece * 3 + content[at + length :],
            content[:at] + rnd.randbytes(length) + content[at + length :],
            content[at : at + length] + content,
            content[:at] + bytes([content[at] ^ 1 << rnd.randrange(8)]) + content[at + 1 :],
            content.decode("utf-8", "replace").encode("utf-16"),
        )
    )


def _text(content):
    return content.decode("utf-8", "replace")


def _lines(content, rnd):
    lines = _text(content).split("\n")
    one, other = rnd.randrange(len(lines)), rnd.randrange(len(lines))
    what = rnd.randrange(4)
    if what == 0:
        del lines[one]
    elif what == 1:
        lines.insert(other, lines[one])
    elif what == 2:
        lines[one], lines[other] = lines[other], lines[one]
    else:
        lines[one] = rnd.choice(HOSTILE)
    return "\n".join(lines).encode()


def _value(content, rnd):
    """Something between quotes, behind = or between commas becomes something hostile."""
    text = _text(content)
    mark = rnd.choice(('"', "=", ",", ":"))
    places = [i for i, character in enumerate(text) if character == mark]
    if len(places) < 2:
        return content
    first = rnd.randrange(len(places) - 1)
    end = places[first + 1] if mark in '",' else text.find("\n", places[first])
    return (text[: places[first] + 1] + rnd.choice(HOSTILE) + text[end:]).encode()


def _cells(content, rnd):
    rows = [line.split(",") for line in _text(content).split("\n")]
    row = rnd.choice(rows)
    what = rnd.randrange(4)
    if what == 0:
        row[rnd.randrange(len(row))] = rnd.choice(HOSTILE)
    elif what == 1:
        row.insert(rnd.randrange(len(row) + 1), rnd.choice(HOSTILE))
    elif what == 2 and len(row) > 1:
        del row[rnd.randrange(len(row))]
    else:
        column = rnd.randrange(len(rows[0]))  # saved with decimal commas, unquoted
        for each in rows:
            each[column : column + 1] = ",".join(each[column : column + 1]).split(".")
    return "\n".join(",".join(row) for row in rows).encode()


def _fields(content, rnd):
    try:
        data = json.loads(content)
    except ValueError:
        return _bytes(content, rnd)
    if not isinstance(data, dict) or not data:
        return content
    key = rnd.choice(sorted(data))
    odd = (None, True, 7, 1.5, [], {}, [[1]], {"a": {"b": 1}}, 10**30)
    value = rnd.choice((*HOSTILE, *odd))
    if rnd.random() < 0.3:
        data[rnd.choice(HOSTILE)] = data.pop(key)
    else:
        data[key] = value
    return json.dumps(data).encode()


def _workbook(content, rnd):
    try:
        book = _read_workbook(content)
        page = book.active
        cell = page.cell(rnd.randint(1, page.max_row), rnd.randint(1, page.max_column))
        return _saved_with(rnd.choice((*HOSTILE[:9], 7, -0.5, True, None)), cell, book)
    except Exception:  # what an earlier turn has left is no workbook any more
        return _bytes(content, rnd)


@lru_cache(maxsize=8)
def _read_workbook(content):
    """Read once: to read it again for each case would cost more than the case."""
    from openpyxl import load_workbook

    return load_workbook(io.BytesIO(content))


def _saved_with(value, cell, book):
    """The workbook with another value in a cell, which has its own again afterwards."""
    out, before = io.BytesIO(), cell.value
    try:
        cell.value = value
        book.save(out)
    finally:
        cell.value = before
    return out.getvalue()


def _form(content, rnd):
    from pypdf import PdfReader, PdfWriter

    try:
        reader = PdfReader(io.BytesIO(content))
        names = sorted(reader.get_fields())
        writer = PdfWriter(clone_from=reader)
        values = {rnd.choice(names): rnd.choice(HOSTILE) for _ in range(3)}
        writer.update_page_form_field_values(None, values, auto_regenerate=False)
        out = io.BytesIO()
        writer.write(out)
    except Exception:
        return _bytes(content, rnd)
    return out.getvalue()
