"""
One rich invented work sheet: every kind of row, long words, and characters that must be escaped.

Vehicle, shop and figures are invented; only their shapes and lengths matter.
"""

from upgrade_planner.documents.worksheet.views import (
    Block,
    Counted,
    FindingView,
    Identity,
    PartGroup,
    PartRow,
    PhaseView,
    ReadingView,
    SafetyMessage,
    ScheduleGroup,
    ScheduleRow,
    SheetView,
    StepView,
    SummaryRow,
    Tool,
)

MARKUP = "<b>&\"front' loom</b>"
LONG_MARK = "instrument-panel-voltage-stabiliser-output-to-temperature-transmitter"
UNBROKEN_MARK = "W" + "1234567890" * 4

IDENTITY = Identity(
    title="Work sheet: dynamo to alternator, points to electronic ignition",
    sheet_number="WS-0042",
    revision="B",
    date="2026-01-02",
    vehicle="Specimen saloon, 1962",
    serial_number="000000-X",
    owner="Specimen workshop",
    before="as found: dynamo, contact breaker",
    after="alternator 55 A, ignition unit",
    polarity="POSITIVE / NEGATIVE",
    voltage="12 V now, 12 V after",
    policy="reversible: cap off, keep old parts",
    check_code="7f3a-91c2",
    program="upgrade planner 0.1",
)

COUNTS = (
    Counted(word="KEEP", style="keep", number=17, meaning="leave in place"),
    Counted(word="REMOVE", style="remove", number=6, meaning="take out"),
    Counted(word="ADD", style="add", number=7, meaning="fit new wire"),
    Counted(word="RESIZE", style="resize", number=3, meaning="new size, same ends"),
    Counted(word="MOVE", style="move", number=3, meaning="new end, same wire"),
    Counted(word="CAP OFF", style="cap", number=4, meaning="insulate, leave in loom"),
)

SUMMARY = (
    SummaryRow(subject="Charging", before="dynamo 22 A, control box", after="alternator 55 A"),
    SummaryRow(
        subject="Ignition",
        before="contact breaker, coil 3.0 Ω",
        after="ignition unit, coil 1.5 Ω, ballast resistor 1.4 Ω",
    ),
    SummaryRow(
        subject="Starting",
        before="solenoid, cable 25 mm²",
        after="solenoid kept, cable 35 mm², ballast bypass",
    ),
    SummaryRow(subject="Main feed", before="not protected", after="fusible link 4 mm²"),
    SummaryRow(
        subject="Ground path", before="battery + to body", after="battery − to body and engine"
    ),
)

FINDINGS = (
    FindingView(
        severity="danger",
        code="PR-01",
        where="charge-output",
        what="About 0.9 m of this wire has no fuse or link. A short would burn the engine loom.",
        remedy="Fit the fusible link at the starter stud (step F5).",
    ),
    FindingView(
        severity="warning",
        code="GR-03",
        where="engine ground strap",
        what="Calculated drop 0.42 V at 180 A; limit 0.30 V.",
        remedy="Fit the second strap (step G2).",
    ),
    FindingView(
        severity="note",
        code="IG-07",
        where="ballast resistor",
        what="Its case reaches 140 °C. Keep 50 mm from any loom.",
        remedy="Fit it on the bare bracket at the inner wing.",
    ),
)

SHORT_CIRCUIT = SafetyMessage(
    id="battery-short",
    word="DANGER",
    hazard="A tool from the live post to the body draws a huge current and burns you.",
    avoid="Take off rings and watch. Disconnect the grounded cable first, connect it last.",
    if_it_happens="Knock the tool away with dry wood. Cool burns with water for 20 minutes.",
)
BATTERY_GAS = SafetyMessage(
    id="battery-gas",
    word="WARNING",
    hazard="A battery gives off gas that explodes.",
    avoid="No flame, spark or switching near the battery. Open the doors.",
)
SPARK = SafetyMessage(
    id="ignition-voltage",
    word="WARNING",
    hazard="The coil gives more than 20 000 V. The shock can stop the heart.",
    avoid="Keep hands and tools off the coil and leads while the key is on.",
)
MOVING_PARTS = SafetyMessage(
    id="moving-parts",
    word="WARNING",
    hazard="Belt and fan catch sleeves, hair and meter leads.",
    avoid="Route the meter leads before starting. Stand to the side.",
)
HOT_PARTS = SafetyMessage(
    id="hot-parts",
    word="CAUTION",
    hazard="Manifold and ballast resistor burn the skin.",
    avoid="Let the engine cool for one hour.",
)
POLARITY = SafetyMessage(
    id="polarity",
    word="NOTICE",
    hazard="Reversed battery cables ruin the alternator's diodes at once.",
    avoid="Read the polarity with the meter before the last joint.",
)

TOOLS = (
    Tool(name="Multimeter, 10 MΩ, 0.01 V steps", use="phases A, H, J, K"),
    Tool(name="Clamp meter, DC, 200 A", use="phase K"),
    Tool(name="Crimping tool, 0.5 to 6 mm²", use="phases D, F"),
    Tool(name="Hexagon crimping tool, 10 to 50 mm²", use="phases F, G"),
    Tool(name="Spanners 8, 10, 13, 17 mm", use="all phases"),
    Tool(name="Torque wrench, 5 to 25 N·m", use="phases E, G, I"),
    Tool(name="Heat gun", use="phases D, F"),
    Tool(name="Test lamp fuse, 10 A, with leads", use="phase I, first connection"),
    Tool(name="Tags and waterproof pen", use="phase B"),
)

PHOTOGRAPHS = (
    "Battery with both cables; the + and − marks must be readable.",
    "Control box, cover off: every terminal letter with its wire.",
    "Dynamo rear end with D and F.",
    "Coil and distributor from the left wing.",
    "Fuse box, cover off, wire colours readable.",
    "Bulkhead connector, both sides.",
)


def wire_step(
    number: str, mark: str, style: str, ends: str, *, made: str, **more: object
) -> StepView:
    """A row for one wire, in the wording that the planner uses."""
    words = {
        "remove": ("REMOVE", f"Remove {mark}."),
        "cap": ("CAP OFF", f"Cap off {mark} at both ends."),
        "add": ("ADD", f"Route {mark}."),
        "resize": ("RESIZE", f"Replace {mark} with a larger cable."),
        "move": ("MOVE", f"Move one end of {mark}."),
    }[style]
    expected = {
        "remove": "Both terminals are bare. The wire is out of the loom.",
        "cap": "Sleeve 25 mm beyond the conductor. Tag on both ends.",
        "add": "Clipped every 300 mm, 50 mm clear of the manifold.",
        "resize": "Crimps do not move by hand.",
        "move": "The old terminal is bare.",
    }[style]
    return StepView(
        number=number,
        mark=mark,
        action=words[0],
        style=style,
        instruction=words[1],
        details=(ends, made),
        expected=expected,
        **more,  # type: ignore[arg-type]
    )


def plain_step(
    number: str, mark: str, action: str, instruction: str, expected: str, **more: object
) -> StepView:
    """A row without a wire."""
    return StepView(
        number=number,
        mark=mark,
        action=action,
        style="",
        instruction=instruction,
        expected=expected,
        **more,  # type: ignore[arg-type]
    )


PHASE_A = PhaseView(
    letter="A",
    title="Make safe",
    intro="",
    safety=(SHORT_CIRCUIT, BATTERY_GAS),
    blocks=(
        Block(
            place="battery, right side of the engine bay",
            steps=(
                plain_step(
                    "A1",
                    "key",
                    "REMOVE",
                    "Remove the ignition key.",
                    "The key is in your pocket.",
                ),
                plain_step(
                    "A2",
                    "ground-cable",
                    "DISCONNECT",
                    "Disconnect the grounded battery cable, marked +.",
                    "The cable end is tied back 150 mm from the post.",
                    details=("Spanner 13 mm. This vehicle has positive ground now.",),
                    why="a slip of the spanner on the live post then meets nothing.",
                ),
                plain_step(
                    "A3",
                    "live-cable",
                    "DISCONNECT",
                    "Disconnect the live battery cable, marked −.",
                    "The cable end is covered with a boot.",
                    before_you_start="After A2: the body must be dead first.",
                ),
                plain_step(
                    "A4",
                    "starter",
                    "MEASURE",
                    "Measure from the starter stud to bare metal of the body.",
                    "max 0.05 V",
                    details=("Red lead on the stud, black lead on the body. Range 20 V.",),
                    measure_unit="V",
                    hold="HOLD 1",
                    sign=True,
                ),
            ),
        ),
    ),
)

PHASE_B = PhaseView(
    letter="B",
    title="Record and tag",
    intro="Tag before anything moves. A tag carries the wire mark and the terminal letter.",
    safety=(),
    blocks=(
        Block(
            place="control box on the bulkhead",
            steps=(
                plain_step(
                    "B1",
                    "photographs",
                    "PHOTOGRAPH",
                    "Photograph every view of the list on page 2.",
                    "Every terminal letter is readable on the screen.",
                ),
                plain_step(
                    "B2",
                    "six wires",
                    "TAG",
                    "Tag each wire at the control box.",
                    "Six tags: A, A1, D, E, F, WL.",
                ),
            ),
        ),
        Block(
            place=f"coil on the left wing, behind {MARKUP}",
            steps=(
                plain_step(
                    "B3",
                    "coil",
                    "MEASURE",
                    "Measure the resistance of the coil's primary winding.",
                    "2.9 to 3.3 Ω",
                    details=("Both low-tension wires stay off the coil for this reading.",),
                    measure_unit="Ω",
                ),
            ),
        ),
    ),
)

PHASE_C = PhaseView(
    letter="C",
    title="Take out",
    intro="",
    safety=(HOT_PARTS,),
    blocks=(
        Block(
            place="dynamo, left side of the engine",
            steps=(
                wire_step(
                    "C1",
                    "dynamo-output",
                    "remove",
                    "From dynamo D to control box D",
                    made="4 mm² · yellow YE · about 900 mm",
                ),
                wire_step(
                    "C2",
                    "dynamo-field",
                    "remove",
                    "From control box F to dynamo F",
                    made="1.5 mm² · yellow/green YE/GN · about 900 mm",
                ),
                plain_step(
                    "C3",
                    "dynamo",
                    "REMOVE",
                    "Remove the dynamo with its bracket bolts.",
                    "The bracket is bare. The bolts are bagged and tagged.",
                    details=("Spanner 17 mm. Weight about 8 kg.",),
                    sign=True,
                ),
            ),
        ),
        Block(
            place="control box on the bulkhead",
            steps=(
                wire_step(
                    "C4",
                    "control-box-feed",
                    "remove",
                    "From main junction stud to control box A",
                    made="4 mm² · brown BN · about 600 mm",
                ),
                plain_step(
                    "C5",
                    "control box",
                    "REMOVE",
                    "Remove the control box.",
                    "Two tapped holes in the bulkhead are clear.",
                    why="it would short the alternator's field if it stayed connected.",
                ),
            ),
        ),
    ),
)

PHASE_D = PhaseView(
    letter="D",
    title="Cap off",
    intro="A capped wire must be dead: both ends off, both ends insulated, both ends tagged.",
    safety=(),
    blocks=(
        Block(
            place="bulkhead connector",
            steps=(
                wire_step(
                    "D1",
                    "ignition-feed-old",
                    "cap",
                    "At the bulkhead connector, cavity 4, and at the coil SW terminal",
                    made="1.5 mm² · white WH · stays in the dash loom",
                ),
                wire_step(
                    "D2",
                    LONG_MARK,
                    "cap",
                    "At the voltage stabiliser I terminal and at the temperature transmitter",
                    made="1.0 mm² · light green/green GN/GN · stays in the dash loom",
                    why=(
                        "taking it out would open the taped loom over its whole length behind the "
                        "instrument panel, and its cavity in the bulkhead connector must stay "
                        "filled so that water cannot enter."
                    ),
                ),
                wire_step(
                    "D3",
                    UNBROKEN_MARK,
                    "cap",
                    "At X2:4 and at X7:11",
                    made="1.0 mm² · black BK · stays in the dash loom",
                ),
                plain_step(
                    "D4",
                    "three wires",
                    "COMPARE",
                    "Compare each capped end with the schedule.",
                    "Six caps, six tags, no bare metal.",
                    hold="HOLD 2",
                ),
            ),
        ),
    ),
)

PHASE_E = PhaseView(
    letter="E",
    title="Fit components",
    intro="",
    safety=(),
    blocks=(
        Block(
            place="left side of the engine",
            steps=(
                plain_step(
                    "E1",
                    "alternator",
                    "FIT",
                    "Fit the alternator to the bracket.",
                    "Pulley and crank pulley are in line within 1 mm.",
                    details=("Two bolts M8. Torque 22 N·m.",),
                ),
                plain_step(
                    "E2",
                    "belt",
                    "TIGHTEN",
                    "Tighten the belt.",
                    "10 to 13 mm of give at mid-span under 50 N.",
                    measure_unit="mm",
                ),
            ),
        ),
        Block(
            place="left inner wing",
            steps=(
                plain_step(
                    "E3",
                    "ballast resistor",
                    "FIT",
                    "Fit the ballast resistor on the bare bracket.",
                    "50 mm of air to any loom.",
                ),
                plain_step(
                    "E4",
                    "ignition unit",
                    "FIT",
                    "Fit the ignition unit on the inner wing.",
                    "Its base lies flat on bare metal, paste on the whole face.",
                    details=("Two screws M5. Torque 4 N·m. Heat paste on the base.",),
                ),
            ),
        ),
    ),
)

PHASE_F = PhaseView(
    letter="F",
    title="Run and join wires",
    intro="Join the load end first and the feed end last.",
    safety=(POLARITY,),
    blocks=(
        Block(
            place="left side of the engine",
            steps=(
                wire_step(
                    "F1",
                    "charge-output",
                    "add",
                    "From alternator B+ to main junction stud",
                    made="10 mm² (8 AWG) · brown BN · cut 1 350 mm",
                ),
                plain_step(
                    "F2",
                    "charge-output",
                    "CRIMP",
                    "Crimp a ring M6 on the alternator end.",
                    "The conductor shows in the inspection hole.",
                    details=("Hexagon die 10 mm². Sleeve 9 mm, 40 mm long.",),
                ),
                plain_step(
                    "F3",
                    "charge-output",
                    "TIGHTEN",
                    "Tighten the nut at alternator B+.",
                    "The ring does not turn by hand. The boot covers it.",
                    details=("Torque 5 N·m.",),
                ),
                wire_step(
                    "F4",
                    "charge-lamp",
                    "move",
                    "From control box WL to alternator L",
                    made="1.0 mm² · brown/yellow BN/YE · length is enough",
                ),
            ),
        ),
        Block(
            place="starter solenoid",
            steps=(
                wire_step(
                    "F5",
                    "main-link",
                    "add",
                    "From starter stud to main junction stud",
                    made="fusible link 4 mm² · 180 mm, bought ready",
                    before_you_start="After A4: the starter stud must be dead.",
                ),
                wire_step(
                    "F6",
                    "starter-cable",
                    "resize",
                    "From battery live post to starter stud",
                    made="Old 25 mm² → new 35 mm² · black BK · cut 1 150 mm",
                ),
                wire_step(
                    "F7",
                    "ballast-bypass",
                    "add",
                    "From solenoid IGN to coil +",
                    made="2.5 mm² · white/yellow WH/YE · cut 900 mm",
                ),
            ),
        ),
        Block(
            place="left inner wing",
            steps=(
                wire_step(
                    "F8",
                    "unit-feed",
                    "add",
                    "From ignition switch IG to ignition unit 3",
                    made="1.5 mm² · white WH · cut 1 600 mm",
                ),
                wire_step(
                    "F9",
                    "coil-negative",
                    "move",
                    "From coil − to ignition unit 1",
                    made="1.5 mm² · white/black WH/BK · length is enough",
                ),
                plain_step(
                    "F10",
                    "loom",
                    "CLIP",
                    "Clip the new wires to the left wing loom.",
                    "A clip every 300 mm. No wire rubs on an edge.",
                    details=("Eleven clips. Grommet 12 mm at the bulkhead.",),
                ),
            ),
        ),
    ),
)

PHASE_G = PhaseView(
    letter="G",
    title="Grounds",
    intro="",
    safety=(),
    blocks=(
        Block(
            place="body and engine",
            steps=(
                wire_step(
                    "G1",
                    "ground-cable",
                    "resize",
                    "From battery − to body stud",
                    made="Old 25 mm² → new 35 mm² · black BK · cut 450 mm",
                ),
                wire_step(
                    "G2",
                    "engine-strap-2",
                    "add",
                    "From gearbox bolt to body stud",
                    made="braid 25 mm² · 300 mm",
                ),
                plain_step(
                    "G3",
                    "body stud",
                    "TIGHTEN",
                    "Tighten the body stud nut.",
                    "Bright metal under every ring. Grease on top.",
                    details=("Torque 12 N·m.",),
                ),
            ),
        ),
    ),
)

PHASE_H = PhaseView(
    letter="H",
    title="Inspect and test dead",
    intro="",
    safety=(),
    blocks=(
        Block(
            place="battery cables, both off the battery",
            steps=(
                plain_step(
                    "H1",
                    "live cable",
                    "MEASURE",
                    "Measure from the live cable end to the body, all switches off.",
                    "min 10 kΩ",
                    measure_unit="kΩ",
                ),
                plain_step(
                    "H2",
                    "engine",
                    "MEASURE",
                    "Measure from the engine block to the ground cable end.",
                    "max 0.2 Ω, leads deducted",
                    measure_unit="Ω",
                ),
                plain_step(
                    "H3",
                    "all wires",
                    "COMPARE",
                    "Compare every changed wire with the schedule, aloud, with the second person.",
                    "23 of 23 wires agree.",
                    hold="HOLD 3",
                    sign=True,
                ),
            ),
        ),
    ),
)

PHASE_I = PhaseView(
    letter="I",
    title="Reconnect",
    intro="",
    safety=(BATTERY_GAS,),
    blocks=(
        Block(
            place="battery",
            steps=(
                plain_step(
                    "I1",
                    "live-cable",
                    "CONNECT",
                    "Connect the live cable to the battery +.",
                    "Clamp does not turn. Boot on.",
                    details=("The vehicle has NEGATIVE ground from here on.",),
                ),
                plain_step(
                    "I2",
                    "test fuse",
                    "CONNECT",
                    "Connect the 10 A test fuse between battery − and the ground cable.",
                    "The fuse stays whole for one minute, current below the limit: max 0.05 A",
                    measure_unit="A",
                    hold="HOLD 4",
                    sign=True,
                ),
                plain_step(
                    "I3",
                    "ground-cable",
                    "CONNECT",
                    "Connect the ground cable to the battery −.",
                    "No spark. Clamp does not turn.",
                ),
            ),
        ),
    ),
)

PHASE_J = PhaseView(
    letter="J",
    title="Test live",
    intro="Write each reading in the record of tests.",
    safety=(SPARK,),
    blocks=(
        Block(
            place="driver's seat and engine bay",
            steps=(
                plain_step(
                    "J1",
                    "tests 1 to 6",
                    "MEASURE",
                    "Measure tests 1 to 6 with the engine stopped.",
                    "Six readings inside their limits.",
                ),
                plain_step(
                    "J2",
                    "key",
                    "SWITCH ON",
                    "Switch the key on, engine stopped.",
                    "The charge lamp is lit.",
                    hold="HOLD 5",
                    details=("If it is dark, go to test 6.",),
                ),
                plain_step(
                    "J3",
                    "starter",
                    "MEASURE",
                    "Measure tests 7 to 9 while cranking for 10 seconds.",
                    "Three readings inside their limits.",
                    before_you_start="After J2: the lamp must be lit first.",
                ),
            ),
        ),
    ),
)

PHASE_K = PhaseView(
    letter="K",
    title="Run",
    intro="",
    safety=(MOVING_PARTS,),
    blocks=(
        Block(
            place="engine bay, engine running",
            steps=(
                plain_step(
                    "K1",
                    "engine",
                    "SWITCH ON",
                    "Start the engine.",
                    "The charge lamp goes out below 1 200 r/min.",
                ),
                plain_step(
                    "K2",
                    "tests 10 to 14",
                    "MEASURE",
                    "Measure tests 10 to 14.",
                    "Five readings inside their limits.",
                ),
                plain_step(
                    "K3",
                    "key",
                    "SWITCH OFF",
                    "Switch the key off.",
                    "The engine stops at once.",
                    why="a back-feed through the charge lamp would keep it running.",
                ),
            ),
        ),
    ),
)

PHASE_L = PhaseView(
    letter="L",
    title="Sign",
    intro="",
    safety=(),
    blocks=(
        Block(
            place="bench",
            steps=(
                plain_step(
                    "L1",
                    "old parts",
                    "TAG",
                    "Tag the bag of old parts with the sheet number.",
                    "One bag, one tag.",
                ),
                plain_step(
                    "L2",
                    "label",
                    "FIT",
                    "Fit the label NEGATIVE GROUND beside the battery.",
                    "The label is readable from the front.",
                ),
            ),
        ),
    ),
)

PHASES = (
    PHASE_A,
    PHASE_B,
    PHASE_C,
    PHASE_D,
    PHASE_E,
    PHASE_F,
    PHASE_G,
    PHASE_H,
    PHASE_I,
    PHASE_J,
    PHASE_K,
    PHASE_L,
)


def schedule_groups() -> tuple[ScheduleGroup, ...]:
    """Forty wires: the changed ones by name, then kept ones."""
    words = {
        "remove": "REMOVE",
        "cap": "CAP OFF",
        "add": "ADD",
        "resize": "RESIZE",
        "move": "MOVE",
        "keep": "KEEP",
    }
    changed = (
        ("dynamo-output", "remove", "dynamo D → control box D", "4 mm² YE 0.90 m", "no dynamo"),
        ("dynamo-field", "remove", "control box F → dynamo F", "1.5 mm² YE/GN 0.90 m", "no dynamo"),
        ("control-box-feed", "remove", "main junction → control box A", "4 mm² BN 0.60 m", "bare"),
        ("control-box-ground", "remove", "control box E → body", "1.5 mm² BK 0.25 m", "lies free"),
        ("control-box-load", "remove", "control box A1 → fuse 1", "4 mm² BN 0.70 m", "lies free"),
        ("suppressor", "remove", "coil SW → body", "1.0 mm² BK 0.15 m", "unit has its own"),
        ("ignition-feed-old", "cap", "connector 4 → coil SW", "1.5 mm² WH 1.10 m", "taped loom"),
        (
            LONG_MARK,
            "cap",
            "voltage stabiliser I → temperature transmitter",
            "1.0 mm² GN/GN 1.40 m",
            "taped loom",
        ),
        (UNBROKEN_MARK, "cap", "X2:4 → X7:11", "1.0 mm² BK 0.80 m", "taped loom"),
        ("spare-horn", "cap", "horn → fuse 4", "2.5 mm² PU/BK 1.90 m", "bulkhead cavity"),
        ("charge-output", "add", "alternator B+ → main junction", "10 mm² BN 1.35 m", "55 A"),
        ("main-link", "add", "starter stud → main junction", "link 4 mm² 0.18 m", "protection"),
        ("ballast-bypass", "add", "solenoid IGN → coil +", "2.5 mm² WH/YE 0.90 m", "cranking"),
        ("unit-feed", "add", "ignition switch IG → unit 3", "1.5 mm² WH 1.60 m", "unit"),
        ("unit-ground", "add", "unit 2 → body stud", "1.5 mm² BK 0.40 m", "unit"),
        ("ballast-feed", "add", "ignition switch IG → ballast 1", "2.5 mm² WH 1.50 m", "drop"),
        ("engine-strap-2", "add", "gearbox bolt → body stud", "braid 25 mm² 0.30 m", "0.42 V drop"),
        ("starter-cable", "resize", "battery + → starter stud", "25 → 35 mm² BK 1.15 m", "drop"),
        ("ground-cable", "resize", "battery − → body stud", "25 → 35 mm² BK 0.45 m", "drop"),
        ("lamp-feed", "resize", "main junction → light switch", "2.5 → 4 mm² BN 1.80 m", "drop"),
        ("charge-lamp", "move", "lamp WL → alternator L", "1.0 mm² BN/YE 1.70 m", "new end"),
        ("coil-negative", "move", "coil − → unit 1", "1.5 mm² WH/BK 0.60 m", "new end"),
        ("points-lead", "move", "distributor → unit 4", "1.0 mm² BK 0.45 m", "trigger now"),
    )
    kept = tuple(
        (f"kept-{number:02}", "keep", f"fuse {number} → load {number}", "1.5 mm² GN 1.20 m", "")
        for number in range(1, 18)
    )
    return tuple(
        ScheduleGroup(
            action=word,
            style=group,
            reason="Same ends, still large enough." if group == "keep" else "",
            rows=tuple(
                ScheduleRow(
                    mark=mark,
                    action=word,
                    style=style,
                    ends=ends,
                    conductor=conductor,
                    reason=reason,
                )
                for mark, style, ends, conductor, reason in changed + kept
                if style == group
            ),
        )
        for group, word in words.items()
    )


PARTS = (
    PartGroup(
        heading="Cable",
        rows=(
            PartRow(quantity="1.5 m", item="cable 10 mm², brown", used_for="charge-output"),
            PartRow(
                quantity="2.0 m", item="cable 35 mm², black", used_for="starter-cable, ground-cable"
            ),
            PartRow(
                quantity="1.0 m", item="cable 2.5 mm², white/yellow", used_for="ballast-bypass"
            ),
            PartRow(quantity="2.0 m", item="cable 1.5 mm², white", used_for="unit-feed"),
            PartRow(quantity="1.7 m", item="cable 2.5 mm², white", used_for="ballast-feed"),
            PartRow(quantity="0.5 m", item="cable 1.5 mm², black", used_for="unit-ground"),
            PartRow(quantity="2.1 m", item="cable 4 mm², brown", used_for="lamp-feed"),
            PartRow(quantity="1", item="braid 25 mm², 300 mm", used_for="engine-strap-2"),
        ),
    ),
    PartGroup(
        heading="Terminals",
        rows=(
            PartRow(quantity="2", item="ring M6 for 10 mm²", used_for="charge-output"),
            PartRow(
                quantity="4", item="ring M8 for 35 mm²", used_for="starter-cable, ground-cable"
            ),
            PartRow(quantity="1", item="battery clamp, positive", used_for="starter-cable"),
            PartRow(quantity="1", item="battery clamp, negative", used_for="ground-cable"),
            PartRow(quantity="9", item="blade 6.3 mm for 1.5 to 2.5 mm²", used_for="phase F"),
            PartRow(quantity="2", item="ring M5 for 1.5 mm²", used_for="unit-ground"),
        ),
    ),
    PartGroup(
        heading="Protection and sleeving",
        rows=(
            PartRow(quantity="1", item="fusible link 4 mm², ring M8 both ends", used_for="F5"),
            PartRow(quantity="8", item="closed-end cap, 0.5 to 2.5 mm²", used_for="phase D"),
            PartRow(quantity="0.5 m", item="heat-shrink 9 mm, black, with adhesive", used_for="F2"),
            PartRow(quantity="0.5 m", item="heat-shrink 5 mm, black, with adhesive", used_for="F8"),
            PartRow(quantity="1", item="grommet 12 mm", used_for="bulkhead"),
            PartRow(quantity="11", item="P-clip 10 mm", used_for="F10"),
        ),
    ),
    PartGroup(
        heading="Components",
        rows=(
            PartRow(quantity="1", item="alternator 55 A, left mounting", used_for="E1"),
            PartRow(quantity="1", item="belt 9.5 × 1 000 mm", used_for="E2"),
            PartRow(quantity="1", item="ballast resistor 1.4 Ω", used_for="E3"),
            PartRow(quantity="1", item="ignition unit", used_for="E4"),
            PartRow(quantity="1", item="coil 1.5 Ω", used_for="coil position, left wing"),
        ),
    ),
)


def reading(number: int, state: str, red: str, black: str, limit: str, unit: str) -> ReadingView:
    """One test in the wording that the planner uses."""
    return ReadingView(
        number=str(number),
        state=state,
        red=red,
        black=black,
        predicted=f"0.10 to 0.20 {unit}" if unit else "",
        limit=limit,
        source="rule 4.2",
        unit=unit,
        if_not="low: joint at the alternator; high: ground strap, engine to body.",
    )


TESTS = (
    reading(1, "Rested one hour, loads off", "live post", "ground post", "min 12.4 V", "V"),
    reading(2, "Loads off, key off", "in series", "ground cable", "max 0.05 A", "A"),
    reading(3, "Key on, engine stopped", "coil +", "engine", "6.0 to 8.0 V", "V"),
    reading(4, "Key on, engine stopped", "unit 3", "unit 2", "min 11.5 V", "V"),
    reading(5, "Head lamps on", "main junction", "live post", "max 0.25 V", "V"),
    reading(6, "Key on, engine stopped: charge lamp", "", "", "lit", ""),
    reading(7, "Cranking 10 s, ignition off", "live post", "starter stud", "max 0.4 V", "V"),
    reading(8, "Cranking 10 s, ignition off", "starter case", "ground post", "max 0.3 V", "V"),
    reading(9, "Cranking 10 s, ignition off", "coil +", "engine", "min 9.0 V", "V"),
    reading(10, "800 r/min, loads off", "live post", "ground post", "13.8 to 14.6 V", "V"),
    reading(11, "1 500 r/min, lamps on", "live post", "ground post", "min 13.6 V", "V"),
    reading(12, "1 500 r/min, lamps on", "alternator B+", "live post", "max 0.3 V", "V"),
    reading(13, "1 500 r/min, lamps on", "alternator case", "ground post", "max 0.2 V", "V"),
    reading(14, "Key off: engine and charge lamp", "", "", "engine stops at once", ""),
)

SHEET = SheetView(
    identity=IDENTITY,
    language="en",
    intro=(
        "Takes out the dynamo and its control box, fits an alternator and an electronic ignition "
        "unit, and turns the vehicle from positive to negative ground. 47 steps, two people at "
        "the hold points, about 9 hours."
    ),
    as_found_note=f"the owner reports a cut wire in {MARKUP}; it is not in this plan.",
    summary=SUMMARY,
    counts=COUNTS,
    notice=(SummaryRow(subject="battery voltage, idling", before="13.2 V", after="14.1 V"),),
    findings_before=(),
    findings=FINDINGS,
    start_conditions=(
        "Engine cold.",
        "Hand brake on, wheels chocked.",
        "Battery connected, at least 12.4 V.",
        "Bonnet open and held, doors open.",
        "Second person present for the hold points.",
        "Fire extinguisher within reach.",
    ),
    tools=TOOLS,
    safety=(SHORT_CIRCUIT, BATTERY_GAS, SPARK, HOT_PARTS, POLARITY),
    photographs=PHOTOGRAPHS,
    phases=PHASES,
    schedule=schedule_groups(),
    parts=PARTS,
    parts_notes=("Lengths hold 10 % for trimming. Terminals hold one spare of each kind.",),
    tests=TESTS,
    limits=(
        "Lengths were calculated from the route, not measured on this vehicle.",
        "The state of old insulation, connectors and body metal was not looked at.",
        "Battery resistance is assumed: 6 mΩ at 20 °C. Wires are taken at 60 °C.",
        "The sheet is a plan. It replaces neither the readings nor a skilled person's judgement.",
    ),
)
