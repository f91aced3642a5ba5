"""The shipped list as a shop in another country exports it from its spreadsheet."""

import csv
import io
from functools import cache

from upgrade_planner.kit.prices.shop_files import shipped_shop

TITLES = {
    "number": "Art.-Nr.",
    "article": "Warengruppe",
    "size": "Querschnitt",
    "insulation": "Isolierung",
    "colour": "Farbe",
    "stud": "Bolzen",
    "barrel": "für Kabel",
    "sold_by": "VE",
    "contains": "Inhalt",
    "minimum": "Mindestmenge",
    "price": "EK netto",
    "price_per": "Preis je",
    "stock": "Bestand",
    "reels": "Rollen",
    "supplier_number": "Lief.-Nr.",
    "shelf_place": "Regal",
    "lead_days": "Lieferzeit",
    "tax_class": "Steuer",
}
WORDS = {
    "cable": "Leitung",
    "ring terminal": "Ringkabelschuh",
    "fuse": "Sicherung",
    "tie": "Kabelbinder",
    "heat-shrink": "Schrumpfschlauch",
    "part": "Teil",
    "each": "Stück",
    "metre": "Meter",
    "reel": "Rolle",
    "pack": "Packung",
}
OTHER_GOODS = (
    ("M1", "Ölfilter", "Stück", "7,90 €", "12", ""),
    ("M2", "Wischerblatt", "Stück", "1.234,56 €", "1", "- nur auf Bestellung"),
    ("", "Frühjahrsaktion!", "", "", "", ""),
)
NUMBERS = ("price", "minimum", "stock", "reels", "contains", "ohms")
SETTINGS = """\
[prices]
file     = "Preisliste.csv"
currency = "EUR"
printed  = ["Bemerkung"]

[prices.columns]
{columns}

[prices.words]
{words}
"""


def _said(table):
    return "\n".join(f'{name!r} = "{text}"'.replace("'", '"') for name, text in table.items())


def german_settings():
    return SETTINGS.format(columns=_said(TITLES), words=_said(WORDS))


def _cell(name, text):
    if name in ("article", "sold_by"):
        return WORDS.get(text, text)
    if name == "price" and text:
        return f"{text.replace('.', ',')} €"
    if name == "currency":
        return "EUR" if text else ""
    traits = ("size", "barrel", "rating", "bore")
    return text.replace(".", ",") if name in (*NUMBERS, *traits) else text


@cache
def german_list():
    """Semicolons, CP1252, decimal commas, other goods, and notes that begin with a dash."""
    rows = list(csv.DictReader(io.StringIO((shipped_shop() / "prices.csv").read_text("utf-8"))))
    names = list(rows[0])
    text = io.StringIO()
    writer = csv.writer(text, delimiter=";", lineterminator="\r\n")
    writer.writerow([*(TITLES.get(name, name) for name in names), "Lieferzeit", "Bemerkung"])
    for number, row in enumerate(rows):
        cells = [_cell(name, row[name]) for name in names]
        note = "- siehe Lade 3" if number % 40 == 0 else ""
        writer.writerow([*cells, "3 Tage" if number % 4 else "", note])
    for number, goods, sold, price, stock, note in OTHER_GOODS:
        made = dict.fromkeys(names, "") | {
            "number": number,
            "article": goods,
            "sold_by": sold,
            "price": price,
            "stock": stock,
        }
        writer.writerow([*(made[name] for name in names), "", note])
    return text.getvalue().replace("Ω", "Ohm").encode("cp1252")


def german_shop(folder):
    """Writes list and settings into a folder."""
    folder.mkdir()
    (folder / "Preisliste.csv").write_bytes(german_list())
    (folder / "shop.toml").write_text(german_settings(), encoding="utf-8")
    for name in ("rates.toml", "labour.toml"):
        content = (shipped_shop() / name).read_text("utf-8").replace('"GBP"', '"EUR"')
        (folder / name).write_text(content, encoding="utf-8")
