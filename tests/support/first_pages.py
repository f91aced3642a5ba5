"""The first pages of a work sheet: what stands behind its first phase cannot change them."""

import re

from pair_facts import printed_once

from upgrade_planner.documents.shared import pdf

BEHIND = re.compile(r'(<section class="phase">.*?)<section class="phase">.*(?=</body>)', re.DOTALL)


def only_first_pages(patch):
    """
    PDFs end behind the first phase from now on: a third of the work of a whole sheet.

    Returns:
        The whole HTML of each sheet that is printed, in their order.
    """
    whole = []

    def printed(html, **settings):
        front, count = BEHIND.subn(r"\1", html, count=1)
        assert count == 1, "no work sheet of several phases"
        whole.append(html)
        return printed_once(front, **settings)

    patch.setattr(pdf, "worksheet_pdf", printed)
    return whole
