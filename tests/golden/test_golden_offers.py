"""
Kit list and quotation of two jobs, as they were read through by hand.

A change on purpose: `python -m tests.golden`, and read the differences.
"""

from every_case import every_case
from golden_papers import INVOICE, LISTS, OFFERS, invoice_made, list_made, offer_made
from places import GOLDEN


@every_case("name", LISTS)
def test_text_is_that_which_was_read(run, tmp_path, name):
    assert list_made(run, name, tmp_path) == (GOLDEN / name).read_bytes()


@every_case("name", OFFERS)
def test_words_of_an_offer_are_those_that_were_read(run, tmp_path, name):
    assert offer_made(run, name, tmp_path) == (GOLDEN / name).read_text("utf-8")


def test_words_of_an_invoice_are_those_that_were_read(run, tmp_path):
    assert invoice_made(run, tmp_path) == (GOLDEN / INVOICE).read_text("utf-8")
