"""
Colours of severities are readable on a dark and on a light terminal.

Contrast: WCAG 2.1, relative luminance and contrast ratio; 3 to 1 is asked of bold type. Colours of
the palette: the defaults of the X terminal, from memory.
"""

from every_case import every_case

from upgrade_planner.checks.findings import Severity
from upgrade_planner.documents.terminal.findings import STYLES

PALETTE = {"red": (205, 0, 0), "magenta": (205, 0, 205), "yellow": (205, 205, 0)}
DARK, LIGHT = (0, 0, 0), (255, 255, 255)
LEAST = 3.0


def _luminance(colour):
    parts = (value / 255 for value in colour)
    red, green, blue = (v / 12.92 if v <= 0.03928 else ((v + 0.055) / 1.055) ** 2.4 for v in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one, other):
    low, high = sorted((_luminance(one), _luminance(other)))
    return (high + 0.05) / (low + 0.05)


@every_case("ground", [DARK, LIGHT])
@every_case("severity", Severity)
def test_a_severity_is_readable(severity, ground):
    style = STYLES[severity]
    assert not style or contrast(PALETTE[style], ground) >= LEAST


def test_yellow_would_not_be():
    assert contrast(PALETTE["yellow"], LIGHT) < LEAST


def test_danger_and_warning_differ():
    assert STYLES[Severity.DANGER] != STYLES[Severity.WARNING]
