"""Upgrade pairs over the shipped configurations, both directions."""

SHIPPED_PAIRS = [
    ("van_original_resistance", "van_upgraded"),
    ("van_original_ballast", "van_upgraded"),
    ("van_original_ballast", "van_original_resistance"),
    ("van_as_found", "van_upgraded"),
    ("van_as_found", "van_original_resistance"),
    ("van_upgraded", "van_original_resistance"),
    ("van_upgraded", "van_original_ballast"),
    ("tractor_original", "tractor_upgraded"),
    ("tractor_upgraded", "tractor_original"),
]
