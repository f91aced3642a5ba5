"""Every sort of file that the program reads, sound, and the commands that read it."""

import csv
import io
import json
import shutil
from functools import cache
from pathlib import Path

from attrs import frozen
from in_process import run
from readme_profiles import PUMP, write_profiles

from upgrade_planner.configuration.files.shipped import shipped_folder

BEFORE = "van_original_ballast"
JOB = ("van_original_resistance", BEFORE)
"""What is packed and quoted where lists and rates are spoilt: a few wires."""

EACH_IN_THE_WORKBOOK = 12
"""Every so many articles of the price list are in the workbook: to save one for each case costs
more than to read it, and all articles are in the list of text."""

CONFIGURATION = """\
[configuration]
title = "The baker's van"
summary = "Somebody has been at the ignition."
based_on = "van_original_ballast"

[overrides.alternator]
rated_output = "55 A"
"""

AS_FOUND = (
    CONFIGURATION
    + """
[as_found]
note = "Blue cable from the key switch straight to the coil."
change_wires = [
  { id = "charge-output", size = "14 SAE" },
]
add_wires = [
  { id = "blue-cable", circuit = "ignition feed", from = "ignition_switch.run", \
to = "coil.positive", size = "18 SAE", colour = "BU", insulation = "PVC", length = "2.4 m" },
]
"""
)


@frozen
class Input:
    """
    One sort of file.

    Attributes:
        name: The file that is spoilt.
        others: Files that lie beside it, by name.
        commands: Arguments of calls that read it; the first costs least.
    """

    name: str
    content: bytes
    commands: tuple[tuple[str, ...], ...]
    others: tuple[tuple[str, bytes], ...] = ()


def _profile(folder, name):
    return (shipped_folder("profiles") / folder / f"{name}.toml").read_bytes()


def _shop(name):
    return (shipped_folder("profiles") / "shop" / name).read_bytes()


@cache
def made(folder: Path, *arguments: str) -> bytes:
    """What a command writes into a file of that folder."""
    done = run(*arguments, cwd=folder)
    assert done.returncode in (0, 1), done.stderr
    return (folder / arguments[arguments.index("-o") + 1]).read_bytes()


def _filled(survey: bytes) -> bytes:
    rows = list(csv.DictReader(io.StringIO(survey.decode("utf-8-sig"), newline="")))
    for number, row in enumerate(rows):
        if row["line"] in ("wire", "part"):
            row["present"] = "yes" if number % 7 else "no"
    out = io.StringIO()
    writer = csv.DictWriter(out, rows[0], lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows)
    return out.getvalue().encode()


def inputs(folder: Path) -> tuple[Input, ...]:
    """All sorts; files that the program itself must make first are made in the folder."""
    compare = ("compare", BEFORE)
    record = ("record", BEFORE)
    describe = ("describe", "--answers", "answers.toml", "-o", "my.toml")
    kit = ("kit", *JOB, "--prices", "shop.toml", "-o", "kit.csv")
    quote = ("quote", *JOB, "-o", "quote.json")
    form_csv = _filled(made(folder, "survey", BEFORE, "-o", "form.csv"))
    # a small form: to read a PDF costs more than all else that is spoilt
    small = str(write_profiles(folder) / PUMP[0])
    form_pdf = made(folder, "survey", small, "-o", "form.pdf")
    wires = made(folder, "show", BEFORE, "-o", "wires.csv")
    answers = made(folder, "describe", "--questions", "answers.toml", "-o", "answers.toml")
    fields = {"wire:charge-output:present:yes": True, "wire:charge-output:size_found": "14 SAE"}
    whole = CONFIGURATION.replace('based_on = "van_original_ballast"', 'vehicle = "vehicle.toml"')
    systems = "\n[systems]\n" + "\n".join(f'{slot} = "{name}"' for slot, name in _systems().items())
    own_system = '\n[systems]\nignition = "system.toml"\n'
    shop = (("prices.csv", _shop("prices.csv")), ("shop.toml", _shop("shop.toml")))
    return (
        Input(
            "my.toml",
            CONFIGURATION.encode(),
            ((*compare, "my.toml"), ("check", "my.toml"), ("readings", "my.toml")),
        ),
        Input(
            "found.toml",
            AS_FOUND.encode(),
            ((*compare, "found.toml"), ("check", "found.toml"), ("show", "found.toml")),
        ),
        Input(
            "vehicle.toml",
            _profile("vehicles", "carrier_van"),
            (("show", "my.toml"), ("check", "my.toml")),
            (("my.toml", (whole + systems).encode()),),
        ),
        Input(
            "system.toml",
            _profile("systems", _systems()["ignition"]),
            ((*compare, "my.toml"), ("check", "my.toml")),
            (("my.toml", (CONFIGURATION + own_system).encode()),),
        ),
        Input("wires.csv", wires, ((*record, "wires.csv", "-o", "out.toml"),)),
        Input("form.csv", form_csv, ((*record, "form.csv", "-o", "out.toml"),)),
        Input(
            "form.json", json.dumps(fields).encode(), ((*record, "form.json", "-o", "out.toml"),)
        ),
        Input("form.pdf", form_pdf, (("record", small, "form.pdf", "-o", "out.toml"),)),
        Input("answers.toml", answers, (describe,)),
        Input("shop.toml", shop[1][1], (kit,), shop[:1]),
        Input("prices.csv", shop[0][1], (kit,), shop[1:]),
        Input("prices.xlsx", _workbook_of(shop[0][1]), (kit,), (("shop.toml", _xlsx(shop[1][1])),)),
        Input("rates.toml", _shop("rates.toml"), ((*quote, "--rates", "rates.toml"),)),
        Input("labour.toml", _shop("labour.toml"), ((*quote, "--labour", "labour.toml"),)),
    )


def _systems():
    from upgrade_planner.library.fitting import shipped_uses

    return next(use.systems for use in shipped_uses() if use.configuration == BEFORE)


def _xlsx(shop: bytes) -> bytes:
    assert b"prices.csv" in shop
    return shop.replace(b"prices.csv", b"prices.xlsx")


def _workbook_of(text: bytes) -> bytes:
    from openpyxl import Workbook

    book = Workbook()
    rows = list(csv.reader(io.StringIO(text.decode("utf-8-sig"))))
    for row in (rows[0], *rows[1::EACH_IN_THE_WORKBOOK]):
        book.active.append(row)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def laid_out(one: Input, content: bytes, folder: Path) -> None:
    """The files of an input in an empty folder, the one that is spoilt with other content."""
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir()
    for name, other in one.others:
        (folder / name).write_bytes(other)
    (folder / one.name).write_bytes(content)
