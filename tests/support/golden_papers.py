"""Papers of the golden files: which calls make them, and what they say."""

import re
from html.parser import HTMLParser

PAIRS = [
    ("van_original_resistance", "van_upgraded"),
    ("saloon_original", "saloon_negative_dynamo"),
]
LISTS = {
    f"{command}_{after}.{suffix}": (command, before, after)
    for command, suffix in (("kit", "csv"), ("quote", "json"))
    for before, after in PAIRS
}
"""Files that are compared to the byte."""

OFFERS = {
    "offer_van_de.txt": ("van_as_found", "van_upgraded", "--language", "de", "--number", "41"),
    "offer_saloon_en.txt": (
        "saloon_original",
        "saloon_trigger_positive",
        "--or",
        "saloon_negative_dynamo",
        "--number",
        "42",
        "--language",
        "en-GB",
    ),
}
INVOICE = "invoice_van_de.txt"
DAY = ("--date", "2026-03-02", "--customer", "B. Person")


class Lines(HTMLParser):
    """What a page says, a line for each block or row."""

    def __init__(self, html):
        super().__init__()
        self.text, self.is_style = "", False
        self.feed(html)

    def handle_starttag(self, tag, attrs):
        self.is_style = tag == "style"
        if tag in ("p", "tr", "li", "h1", "h2", "table"):
            self.text += "\n"
        if tag in ("td", "th"):
            self.text += " | "

    def handle_endtag(self, tag):
        self.is_style = False

    def handle_data(self, data):
        if not self.is_style:
            self.text += data.replace("\n", " ")

    def __str__(self):
        lines = (re.sub(r"[ \u00a0]+", " ", line).strip() for line in self.text.splitlines())
        return "\n".join(line for line in lines if line) + "\n"


def list_made(run, name, folder):
    """A kit list or quotation, as bytes."""
    _done(run(*LISTS[name], "--date", "2026-03-01", "-o", name, cwd=folder))
    return (folder / name).read_bytes()


def offer_made(run, name, folder):
    """The words of an offer."""
    _done(run("quote", *OFFERS[name], *DAY, "-o", "q.html", cwd=folder))
    return str(Lines((folder / "q.html").read_text("utf-8")))


def invoice_made(run, folder):
    """The words of an invoice."""
    _done(run("quote", *OFFERS["offer_van_de.txt"], *DAY, "-o", "q.json", cwd=folder))
    _done(run("accept", "q.json", "--date", "2026-03-05", cwd=folder))
    billed = ("--number", "R-17", "--paid", "100.00", "--date", "2026-03-20", "-o", "i.html")
    _done(run("invoice", "q.json", *billed, cwd=folder))
    return str(Lines((folder / "i.html").read_text("utf-8")))


def _done(done):
    assert done.returncode == 0, done.stderr
