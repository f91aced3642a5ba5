"""Six jobs whose sheets have a ceiling of pages: large, small, converted, from an owner's file."""

JOBS = (
    ("van_original_resistance", "van_upgraded", 12, 14),
    ("six_volt_tractor_original", "six_volt_tractor_twelve", 14, 18),
    ("saloon_original", "saloon_negative_alternator", 16, 20),
    ("pickup_original", "pickup_upgraded", 13, 16),
    ("van_original_ballast", "van_discharge_unit", 14, 17),
    ("saloon_original", "own_saloon.toml", 7, 8),
)
"""From what to what; pages at most on A4, without pictures and with them. Letter: one more."""

OWN_SALOON = """
[configuration]
title = "My saloon with a trigger module"
summary = "Trigger module in the old distributor; all else as it was."
based_on = "saloon_original"

[systems]
ignition = "trigger_module_full_voltage"
"""
