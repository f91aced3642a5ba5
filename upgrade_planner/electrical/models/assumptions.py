"""
Electrical values that profiles rarely give; each is a default that a rating overrides.

All are our assumptions unless a source is named; the contributor guide lists them.
"""

BATTERY_AH = 50.0
"""Capacity, where the profile gives none. [Ah]"""

CHARGING_OHM_AH = 15.0
"""Resistance of a nearly charged battery of six cells to charging, times its capacity. [Ω·Ah]
Source: our assumption: 1.6 V above its EMF drive a current of about a tenth of the capacity
figure."""

SIX_CELLS_V = 12.6
"""EMF of six charged cells. [V] Source: common practice: 2.1 V a cell."""

CONTACT_OHM = 1e-3
"""Closed contact of a switch or relay in good order; ammeter with its shunt. [Ω]"""

SOLENOID_CONTACT_OHM = 3e-4
"""Main contacts of a starter solenoid. [Ω] Source: our assumption; at 150 A it drops 45 mV, inside
the 0.2 V that TM 5-3820-256-24-4 allows a solenoid switch."""

MOUNTING_OHM = 1e-3
"""Part grounded by its mounting on clean metal. [Ω]"""

BOLTED_OHM = 5e-5
"""Machine bolted to the engine by its flange, or stud of a ground point on clean metal. [Ω]
Source: derived: constriction of spots of contact in cast iron, resistivity 0.7 µΩ·m, that two
bolts with 40 kN press flat at a hardness of 1.5 GPa (27 mm²): 38 µΩ for ten spots and 9 µΩ for
the flange they lie in. Bolted copper bars have 5 to 15 µΩ (instrument maker's article).
At 150 A it drops 8 mV: TM 5-3820-256-24-4, p. 8 allows a connection 0.0 V."""

JOINT_OHM = 5e-4
"""Crimp and screwed joint at one wire end in good order, at most. [Ω]"""

JOINT_OHM_MM2 = 2.6e-3
"""Joint at one wire end, times the area of its cable. [Ω·mm²] Source: our assumption: a good joint
has the resistance of 15 cm of its own cable, so a heavy cable has a better one."""

LEAST_JOINT_OHM = 5e-5
"""Not even a large lug has less. [Ω] Source: our assumption."""

CAVITY_OHM = 2e-3
"""Pair of blades in a connector cavity. [Ω]"""

FUSE_DROP_V = 0.1
"""Drop of a fuse at its rated current. [V] Source: DIN 72581-3 as quoted, at most 100 mV for
30 to 80 A (125 mV for 20 A)."""

POINTS_OHM = 5e-3
"""Closed breaker points alone; lead and ground are elements of their own. [Ω] Source: derived:
constriction in clean tungsten, 55 nΩ·m and 4 GPa, pressed with 5 N gives 1.4 mΩ; the film of points
in use makes it about three times as much (our assumption). The 0.1 V of NAVEDTRA 14329 holds from
coil to ground, lead and ground included."""

COIL_FIELD_OHM = 4.0
"""Field winding, where the profile gives none. [Ω] Source: middle of 1.7 to 5 Ω in
TM 5-3825-213-20 (a 24 V machine), so only an order of magnitude."""

ARMATURE_OHM = 0.2
"""Armature of a dynamo with its brushes, standing. [Ω] Source: our assumption: a tenth of its
voltage is lost inside at rated output."""

RESIDUAL_V = 1.5
"""What the remanence of a turning dynamo gives without field current. [V] Source: common practice
of testing: 1 to 3 V with the field lead off."""

FULL_FIELD_RATIO = 1.5
"""Voltage at which a dynamo with a fixed field delivers nothing more, by the system voltage. [1]
Source: our assumption; it depends on speed."""

CHARGING_RATIO = 1.2
"""Voltage at which such a dynamo delivers its rated current, by the system voltage. [1] Source: our
assumption: 14.4 V for 12 V."""

THIRD_BRUSH_RATIO = 2.0
"""Voltage up to which a third brush holds its current, by the system voltage. [1] Source: our
assumption; without a battery it climbs until the field burns."""

TRANSISTOR_OHM = 0.3
"""Output stage of a transistor regulator, conducting. [Ω] Source: our assumption: 1 V at 3 A."""

TRIO_LIMIT_A = 4.0
"""Most that the lamp terminal of a charging machine can deliver. [A]"""

DROOP_OHM = 2e-3
"""Fall of the regulated voltage per ampere delivered. [V/A]"""

RELAY_COIL_OHM = 60.0
"""Coil of a field relay. [Ω]"""

GAUGE_OHM = 60.0
"""Gauge movement, where the profile gives none. [Ω]"""

SENDER_OHM = 40.0
"""Sender at mid scale, where the profile gives none. [Ω]"""

METER_OHM = 1e4
"""Voltmeter or signal input of a tachometer. [Ω]"""

UNIT_RESTING_A = 0.2
"""Electronic ignition unit, key on, engine stopped. [A]"""

UNIT_DUTY_RATIO = 0.5
"""Mean supply current of an electronic ignition unit, as part of its greatest current. [1]"""

UNIT_KNEE_V = 4.0
"""Below this supply an electronic unit draws like a resistor. [V]"""

STARTER_KNEE_V = 4.0
"""Below this voltage a turning starter draws like a resistor. [V]"""

IDLE_RATIO = 0.4
"""Output at idle as part of rated output, where the profile gives none. [1] Source: from memory,
30 to 60 % for a heavy-pulley machine."""


def joint_ohm(area_mm2: float) -> float:
    """Joint at one end of a wire of that area, in good order. [Ω]"""
    return max(LEAST_JOINT_OHM, min(JOINT_OHM, JOINT_OHM_MM2 / area_mm2))
