"""Whatever somebody ticked or wrote on a survey form stands on the work sheet that follows."""

import csv
import io
import json
from decimal import Decimal

import pytest

from upgrade_planner.comparison.results import Policy
from upgrade_planner.configuration.model import Conductor
from upgrade_planner.documents.kit.bag_pages import bag_view
from upgrade_planner.documents.quote.line_words import remark_words
from upgrade_planner.documents.survey.form_csv import survey_csv
from upgrade_planner.documents.words.speech import speech_of
from upgrade_planner.documents.worksheet.found import found_rows
from upgrade_planner.documents.worksheet.parts_list import part_groups
from upgrade_planner.electrical.sizing import load_sized
from upgrade_planner.errors import ConfigurationError
from upgrade_planner.inspection.spoken_answers import TICKED_CONDITIONS
from upgrade_planner.inspection.walk import inspection
from upgrade_planner.jobs.record import record
from upgrade_planner.kit.packing import OrderedUpgrade, packed, planned_job
from upgrade_planner.kit.prices.shop_files import load_prices, shipped_shop
from upgrade_planner.planning.operations import FindCause
from upgrade_planner.planning.plan import plan_upgrade
from upgrade_planner.quote.remarks import remarks

PICKUP, TARGET = "pickup_original", "pickup_upgraded"
ALL_WORN = ", ".join(TICKED_CONDITIONS)


@pytest.fixture(scope="module")
def walked():
    return inspection(load_sized(PICKUP)[0])


def rows_of(walked):
    return list(csv.DictReader(io.StringIO(survey_csv(walked, "metric", "2026-03-01"), newline="")))


def everything(row, number, walked):
    """Every box of a line filled that can be filled at once, each with words of its own."""
    name, note = row["id"], f"Remark {number} of {row['line']}."
    match row["line"]:
        case "reading":
            return {"measured": "0.001 V", "note": note}
        case "part":
            measured = walked.measurement_of.get(("part", name))
            off = (
                {"measured": "99 ohm"} if measured and measured.dimension.value != "voltage" else {}
            )
            marked = f"Mark {number}"
            return {"present": "x", "condition": ALL_WORN, "marked": marked, "note": note, **off}
        case "wire":
            is_plain = walked.configuration.wire_by_id[name].conductor is Conductor.COPPER
            conductor = {"conductor_found": "fusible link"} if is_plain and not number % 9 else {}
            return {
                "present": "x",
                "size_found": "6 AWG",
                "colour_found": "PK/TQ",
                "insulation_found": "COTTON",
                "length_measured": f"{1 + number / 100:.2f} m",
                "condition": ALL_WORN,
                "measured": "99 ohm",
                "note": note,
                **conductor,
            }
    return {
        "from_found": "battery.positive",
        "to_found": "radio.feed",
        "size_found": "6 AWG",
        "colour_found": "PK/TQ",
        "insulation_found": "COTTON",
        "circuit_found": "accessory",
        "length_measured": f"{3 + number / 100:.2f} m",
        "condition": ALL_WORN,
        "measured": "98 ohm",
        "note": note,
    }


def told(tmp_path, form):
    """What the sheet tells of the vehicle: its note, remarks and rows of what was found."""
    record(PICKUP, form, tmp_path / "mine.toml")
    before, after = load_sized(str(tmp_path / "mine.toml"), TARGET)
    plan = plan_upgrade(before, after)
    rows = {row.subject: row for row in found_rows(plan, "metric")}
    return plan, rows, (before.as_found_note, *before.as_found_remarks)


def as_csv(rows, path):
    with path.open("w", newline="", encoding="utf-8") as file:
        writer = csv.DictWriter(file, rows[0])
        writer.writeheader()
        writer.writerows(rows)
    return path


@pytest.fixture(scope="module")
def sheet(walked, tmp_path_factory):
    folder = tmp_path_factory.mktemp("every_box")
    rows, said = rows_of(walked), {}
    terminal = str(next(iter(walked.configuration.wires_at)))
    for number, row in enumerate(rows):
        filled = everything(row, number, walked)
        if row["line"] == "stranger":
            filled |= {"from_found": terminal, "to_found": "battery.positive"}
        said[row["line"], row["id"]] = filled
        row.update(filled)
    return said, *told(folder, as_csv(rows, folder / "form.csv"))


class TestEveryBox:
    def test_every_wire_tells_its_condition_note_length_and_conductor(self, sheet):
        said, _, rows, _ = sheet
        for (line, name), filled in said.items():
            if line == "wire":
                found = rows[f"wire {name}"].before.lower()
                assert filled["note"].lower() in found
                assert "pk/tq" in found
                assert "cotton" in found
                assert filled["length_measured"].replace(" ", "\N{NO-BREAK SPACE}") in found
                assert all(word in found for word in TICKED_CONDITIONS)
                assert filled.get("conductor_found", "").removeprefix("fusible ") in found

    def test_every_part_tells_its_condition_mark_and_note(self, sheet):
        said, _, rows, remarks = sheet
        for (line, name), filled in said.items():
            if line == "part":
                found = rows[name.replace("_", " ")].before
                assert filled["note"] in found
                assert filled["marked"] in found
                assert all(word in found.lower() for word in TICKED_CONDITIONS)
                assert "measured" not in filled or "99 ohm" in found or "99 ohm" in str(remarks)

    def test_every_stranger_and_reading_is_told(self, sheet):
        said, _, rows, remarks = sheet
        strangers = [filled for (line, _), filled in said.items() if line == "stranger"]
        told_of = " ".join(row.before for row in rows.values())
        assert strangers
        assert all(filled["note"] in told_of for filled in strangers)
        assert all("98 ohm" in rows[f"wire found-{n}"].before for n in range(1, len(strangers) + 1))
        for (line, name), filled in said.items():
            if line == "reading":
                assert any(name in one and "0.001 V" in one for one in remarks)
                assert any(filled["note"] in one for one in remarks)

    def test_every_worn_thing_has_its_steps(self, sheet):
        _, plan, rows, _ = sheet
        for row in rows.values():
            assert ":" in row.after, f"nothing is done about {row.subject}: {row.before}"
        assert "hold-burnt" in {getattr(op, "code", "") for op in plan.operations}


class TestFields:
    def test_ticks_of_a_form_on_the_screen_arrive(self, walked, tmp_path):
        fields = {
            "head:by": "A. Person",
            "head:odometer": "81,234",
            f"sign:{walked.signs[0].id}": True,
            "wire:horns:present": "x",
            "wire:horns:condition:burnt": True,
            "wire:horns:condition:corroded end": True,
            "wire:dome-lamp:present": "no",
            "wire:dome-lamp:note": "Cut off short.",
            "part:lamp_switch:present": "x",
            "part:lamp_switch:condition:cracked": True,
        }
        form = tmp_path / "form.json"
        form.write_text(json.dumps(fields))
        _, rows, remarks = told(tmp_path, form)
        assert rows["wire horns"].before.startswith("Corroded end, burnt")
        assert rows["lamp switch"].before.startswith("Cracked")
        for words in ("A. Person", "81,234", walked.signs[0].look, "Cut off short."):
            assert any(words in one for one in remarks), words

    def test_burnt_and_good_at_once_is_refused_with_both_boxes_named(self, tmp_path):
        fields = {
            "wire:horns:present": "x",
            "wire:horns:condition:burnt": True,
            "wire:horns:condition:good": True,
        }
        form = tmp_path / "form.json"
        form.write_text(json.dumps(fields))
        with pytest.raises(ConfigurationError) as caught:
            record(PICKUP, form, tmp_path / "mine.toml", strict=True)
        (problem,) = caught.value.problems
        assert problem.subject == "wire horns, condition"
        assert problem.found == "'good' together with 'burnt'"
        assert not (tmp_path / "mine.toml").exists()


SIX = {
    "battery-ground": "corroded end",
    "body-ground": "corroded end",
    "starter-cable": "corroded end",
    "cab-feed": "burnt",
    "fuse-panel-feed": "burnt",
    "horns": "burnt",
}


@pytest.fixture(scope="module")
def badly_rewired(tmp_path_factory):
    """The pickup as an earlier owner left it, with six bad ends on its form."""
    folder = tmp_path_factory.mktemp("badly_rewired")
    fields = {f"wire:{name}:present": "x" for name in SIX}
    fields |= {f"wire:{name}:condition:{word}": True for name, word in SIX.items()}
    form, mine = folder / "form.json", folder / "mine.toml"
    form.write_text(json.dumps(fields))
    record("pickup_as_found", form, mine)
    return str(mine)


class TestBadlyRewiredPickup:
    """Each of six bad ends is found again on every paper that follows the form."""

    @pytest.fixture(scope="class")
    @staticmethod
    def plan(badly_rewired):
        return plan_upgrade(*load_sized(badly_rewired, TARGET))

    def test_on_the_sheet(self, plan):
        rows = {row.subject: row for row in found_rows(plan, "metric")}
        for name, condition in SIX.items():
            assert rows[f"wire {name}"].before.lower().startswith(condition)
            assert ":" in rows[f"wire {name}"].after
        causes = {op.item.id for op in plan.operations if isinstance(op, FindCause)}
        assert causes == {name for name, word in SIX.items() if word == "burnt"}

    def test_in_the_parts_list_by_number(self, plan):
        used_for = ", ".join(
            row.used_for for group in part_groups(plan, "metric") for row in group.rows
        )
        for name in SIX:
            number = plan.comparison.numbers.new[name]
            assert f"W{number} {name}" in used_for

    def test_in_the_bags_of_the_kit_by_number(self, badly_rewired, plan):
        pair = OrderedUpgrade(configurations=(badly_rewired, TARGET))
        job = planned_job(pair, Policy.REVERSIBLE)
        kit = packed((job,), load_prices(shipped_shop()), spare_percent=Decimal(0))
        bags = [bag_view(kit, bag, at, "metric") for at, bag in enumerate(kit.order.bags, 1)]
        for name in SIX:
            number = plan.comparison.numbers.new[name]
            assert any(f"W{number} {name}" in f"{bag}" for bag in bags), name

    def test_in_the_quotation_by_number(self, plan):
        told = [one for one in remarks([plan]) if one.finding is None and one.need is None]
        words = " ".join(remark_words(one, plan, speech_of("en")) for one in told)
        for name, condition in SIX.items():
            number = plan.comparison.numbers.old[name]
            assert f"Found {condition}: W{number} {name.replace('-', ' ')}" in words
