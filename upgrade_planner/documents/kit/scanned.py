"""Codes that a scanner reads: QR codes as drawings."""

from collections.abc import Iterator

from upgrade_planner.attributes import frozen

QUIET = 4
"""Empty steps round a QR code. Source: ISO/IEC 18004, from memory."""


@frozen(kw_only=True)
class Code:
    """A QR code as drawing: side in steps with its empty margin, path of the dark steps."""

    side: int
    path: str


def qr_code(text: str) -> Code:
    """The text as QR code, level M: 15 % of it may be dirty."""
    import segno

    made = segno.make(text, error="m", micro=False, boost_error=False)
    matrix = [[bool(step) for step in row] for row in made.matrix]
    path = "".join(
        f"M{QUIET + first} {QUIET + row}h{length}v1h-{length}z"
        for row, steps in enumerate(matrix)
        for first, length in _runs(steps)
    )
    return Code(side=len(matrix) + 2 * QUIET, path=path)


def _runs(steps: list[bool]) -> Iterator[tuple[int, int]]:
    """First and number of dark steps that follow each other."""
    first = 0
    while first < len(steps):
        length = 0
        while first + length < len(steps) and steps[first + length]:
            length += 1
        if length:
            yield first, length
        first += length or 1
