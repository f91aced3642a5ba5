"""Quotations for the tests: one offer and two, and shop files that can be recognised."""

import datetime
import re
import shutil

from pdf_words import page_texts

from upgrade_planner.configuration.files.shipped import shipped_folder
from upgrade_planner.jobs.quote import QuoteRequest, quote

DAY = datetime.date(2026, 3, 2)
VAN = ("van_original_ballast", ("van_upgraded",))
SMALL = ("van_upgraded", ("van_voltmeter",))
"""Of a few lines, for what every paper has."""

SALOON = ("saloon_original", ("saloon_trigger_positive", "saloon_negative_alternator"))
ALTERED = ("pickup_as_found", ("pickup_upgraded",))
WITH_DANGER = ("pickup_upgraded", ("pickup_as_found",))

MARGIN, CABLE_MARGIN, RATE = "37.531", "41.273", "57.31"
"""Figures that stand in no price by chance."""


def quoted(job, target, **changes):
    """Writes a quotation; also gives it back."""
    before, after = job
    request = {"before": before, "after": after, "target": target, "issued": DAY, **changes}
    return quote(QuoteRequest(**request))


def rates_text(**replaced):
    """The shipped rates with margins and a rate that can be recognised."""
    text = (shipped_folder("profiles") / "shop" / "rates.toml").read_text(encoding="utf-8")
    changes = {
        "percent = 25": f'percent = "{MARGIN}"',
        "cable = 40": f'cable = "{CABLE_MARGIN}"',
        'rate  = "58.00"': f'rate  = "{RATE}"',
        **replaced,
    }
    for old, new in changes.items():
        assert old in text, old
        text = text.replace(old, new)
    return text


def own_rates(folder, **replaced):
    """The same as a file."""
    path = folder / "rates.toml"
    path.write_text(rates_text(**replaced), encoding="utf-8")
    return path


def shop_in(folder, currency, *replaced):
    """The shipped shop with all its figures in another currency, as a folder; pairs to replace."""
    shop = folder / f"shop_{currency}"
    shutil.copytree(shipped_folder("profiles") / "shop", shop)
    for path in shop.iterdir():
        text = path.read_text(encoding="utf-8").replace("GBP", currency)
        for old, new in replaced if path.name == "rates.toml" else ():
            assert old in text, old
            text = text.replace(old, new)
        path.write_text(text, encoding="utf-8")
    return shop


def pdf_text(path):
    """All words of a PDF, white space made equal."""
    text = "\n".join(page_texts(path))
    return re.sub(r"[ \u00a0]+", " ", text.replace("\u2060", ""))
