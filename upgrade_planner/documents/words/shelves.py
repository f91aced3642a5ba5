"""What the shelves are called that the materials of a job lie on."""

SHELVES = {
    "parts": "Parts",
    "cable": "Cable and links",
    "terminals": "Terminals",
    "protection": "Fuses, relays and diodes",
    "sealing": "Heat-shrink, caps and tags",
    "harness": "Sleeve, tape, grommets and ties",
    "consumables": "Consumables",
}
"""Headings of the parts list, by shelf."""
