"""
Kit list and quotation of two jobs, as they were read through by hand.

A change on purpose: write them anew with the commands below and read the differences.
"""

import re
from html.parser import HTMLParser

import pytest
from places import GOLDEN

PAIRS = [
    ("van_original_resistance", "van_upgraded"),
    ("saloon_original", "saloon_negative_dynamo"),
]


@pytest.mark.parametrize(("before", "after"), PAIRS)
@pytest.mark.parametrize(("command", "suffix"), [("kit", "csv"), ("quote", "json")])
def test_text_is_that_which_was_read(run, tmp_path, command, suffix, before, after):
    name = f"{command}_{after}.{suffix}"
    done = run(command, before, after, "--date", "2026-03-01", "-o", name, cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    assert (tmp_path / name).read_bytes() == (GOLDEN / name).read_bytes()


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
DAY = ("--date", "2026-03-02", "--customer", "B. Person")


@pytest.mark.parametrize("name", OFFERS)
def test_words_of_an_offer_are_those_that_were_read(run, tmp_path, name):
    done = run("quote", *OFFERS[name], *DAY, "-o", "q.html", cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    assert str(Lines((tmp_path / "q.html").read_text("utf-8"))) == (GOLDEN / name).read_text(
        "utf-8"
    )


def test_words_of_an_invoice_are_those_that_were_read(run, tmp_path):
    run("quote", *OFFERS["offer_van_de.txt"], *DAY, "-o", "q.json", cwd=tmp_path)
    run("accept", "q.json", "--date", "2026-03-05", cwd=tmp_path)
    billed = ("--number", "R-17", "--paid", "100.00", "--date", "2026-03-20", "-o", "i.html")
    done = run("invoice", "q.json", *billed, cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    read = (GOLDEN / "invoice_van_de.txt").read_text("utf-8")
    assert str(Lines((tmp_path / "i.html").read_text("utf-8"))) == read
