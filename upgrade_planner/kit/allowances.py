"""
What a maker of harnesses adds, spaces and rounds by: every allowance of the kit with its source.

Figures marked `our assumption` are our own choice; a shop that knows better changes them here.
"""

from decimal import Decimal

# Cable ------------------------------------------------------------------------------------------

RE_TERMINATING_M = Decimal("0.02")
"""Cable for making each end a second time. [m] Source: our assumption, one new barrel and a strip
length; FAA AC 43.13-1B Change 1, 11-118, allows for two where there is room."""

LINK_CRIMP_M = Decimal("0.01")
"""Part of a fusible link inside the barrel at each end, so that its free length stays as given.
[m] Source: our assumption, the length of a common barrel."""

CUT_STEP_M = Decimal("0.01")
"""Cut lengths are rounded up to whole centimetres. [m] Source: our assumption."""

BLOCK_CABLE_M = Decimal("0.20")
"""Cable from a stud to a distribution block beside it. [m] Source: our assumption."""

# Heat-shrink ------------------------------------------------------------------------------------

SHRUNK_SMALL_M = Decimal("0.030")
"""Shrunk sleeve on an end up to 6 mm²: barrel and 15 mm of cable. [m] Source: our assumption."""

SHRUNK_LARGE_M = Decimal("0.050")
"""The same on a thicker cable, whose lug is longer. [m] Source: our assumption."""

SHRUNK_SPLICE_M = Decimal("0.060")
"""Shrunk sleeve over a splice: barrel and 20 mm of cable both ways. [m] Source: our assumption."""

SHRUNK_BEYOND_CAP_M = Decimal("0.025")
"""How far the sleeve over a capped end reaches beyond the conductor. [m] Source: our assumption."""

SHRUNK_CAP_M = 2 * SHRUNK_BEYOND_CAP_M
"""Shrunk sleeve over a capped end. [m]"""

LENGTH_LOSS = Decimal("0.15")
"""Share of its length that a sleeve loses when it shrinks. Source: tubing supplier article, 5 to
15 %; the greater is taken."""

SLEEVE_STEP_M = Decimal("0.005")
"""Sleeve is cut in steps of 5 mm. [m] Source: our assumption."""

SMALL_CABLE_MM2 = 6.5
"""Thickest cable of colour-coded terminals, in any size system. [mm²] Source: terminal maker
table, yellow to 6 mm² and 10 AWG (5.3 mm²); the rest is our assumption."""

BARREL_WALL_MM = 1.0
"""Wall of a plain barrel or of a cap. [mm] Source: our assumption."""

COLOURED_BARREL_MM = {"red": 4.3, "blue": 5.0, "yellow": 6.7}
"""Outside of the insulating collar of a colour-coded terminal. [mm] Source: from memory."""

# Harness ----------------------------------------------------------------------------------------

SUPPORT_SPACING_M = Decimal("0.45")
"""Largest spacing of supports. [m] Source: ISO 10133:2012, 7.3, as quoted in trade tables."""

BATTERY_SPACING_M = Decimal("0.30")
"""The same for a cable on a battery post. [m] Source: ISO 10133:2012, 7.4, as quoted in trade
tables (battery cable to isolator)."""

BATTERY_CABLE_MM2 = 12.0
"""Cables from this copper area on are battery cables, held by lined clamps: size 6 SAE, 16 mm².
[mm²] Source: our assumption; battery cable is listed from size 6."""

PACKING = 0.64
"""Share of a round bundle that its wires fill, insulation included. Source: our assumption:
bundle = 1.25 · √n · wire, above the tightest circle round 3 to 7 equal wires."""

BORES_MM = (5, 6, 8, 10, 13, 16, 19, 22, 25, 32, 38, 50)
"""Bores in which sleeve, grommets and clamps are sold. [mm] Source: from memory."""

TAPE_WIDTH_MM = 19.0
"""Width of loom tape. [mm] Source: common practice."""

TAPE_OVERLAP = 0.5
"""Share of its width by which each turn of tape covers the last. Source: common practice,
half-lapped."""

# Consumables ------------------------------------------------------------------------------------

COMPOUND_ML = Decimal("1")
"""Anti-corrosion compound on a made joint in the engine space or outside. [ml]
Source: our assumption."""

COMPOUND_POST_ML = Decimal("3")
"""The same on a battery post with its clamp. [ml] Source: our assumption."""

SEALS_PER_CAVITY = 2
"""Seals for a cable that passes one cavity: one behind each half of the connector, where it
stands in the engine space or outside. Source: our assumption."""
