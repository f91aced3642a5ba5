"""What a US reader must not meet on paper or screen."""

import re

METRIC = re.compile(r"\d\s?(?:mm²|mm|cm|m|km|°C|N·m|Nm|kg|g|l)(?![\w²])")
"""A number with a metric unit of length, area, temperature, torque or mass; of volume too."""


def metric_figures(text: str) -> list[str]:
    """Every metric figure in a text."""
    return METRIC.findall(text)
