"""Schemas describe every output and every shipped profile, and nothing spoilt."""

import copy
import json
import re
import tomllib
from typing import get_type_hints

import pytest
from as_data import assert_described, faults, judge
from every_case import every_case
from jsonschema import Draft202012Validator
from kit_sample import demo_kit, poor_kit
from pair_facts import compared, planned
from places import ROOT

from upgrade_planner.configuration.files.shipped import PROFILE_FOLDERS, shipped_profiles
from upgrade_planner.documents.kit.kit_json import kit_json
from upgrade_planner.documents.schemas.named import FORMATS, NAMES, format_schema, schema_text
from upgrade_planner.documents.worksheet.plan_json import comparison_json, plan_json
from upgrade_planner.documents.worksheet.title_block import SheetOptions

PAIRS = [("van_original_resistance", "van_upgraded"), ("tractor_original", "tractor_upgraded")]


@every_case("name", NAMES)
def test_every_schema_is_sound_and_written_as_text(name):
    Draft202012Validator.check_schema(format_schema(name))
    assert json.loads(schema_text(name))["title"] == f"upgrade-planner {name}"


def test_the_guide_has_every_format_with_its_version_and_an_example():
    guide = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    rows = re.findall(r"^\| `([\w-]+)` \| (\d+) \| [^|]+ \| `(.+)` \|$", guide, re.MULTILINE)
    assert {name: int(version) for name, version, _ in rows} == {
        name: form.version for name, form in FORMATS.items()
    }
    for name, _, example in rows:
        shape = get_type_hints(FORMATS[name].shape)
        assert set(json.loads(f"{{{example}}}")) <= set(shape), name


@every_case("kind", PROFILE_FOLDERS)
def test_every_shipped_profile_is_described(kind):
    for path in shipped_profiles(kind).values():
        assert faults(kind, tomllib.loads(path.read_text(encoding="utf-8"))) == [], path


@every_case("pair", PAIRS)
def test_plans_and_comparisons_are_described(pair):
    assert_described(plan_json(planned(*pair), SheetOptions(date="2026-01-02")))
    assert_described(comparison_json(compared(*pair)))


@every_case("kit", [poor_kit, demo_kit])
def test_kits_are_described(kit):
    assert_described(kit_json(kit(), "2026-03-01"))


@pytest.fixture(scope="module")
def plan():
    return json.loads(plan_json(planned(*PAIRS[1]), SheetOptions(date="2026-01-02")))


@pytest.mark.parametrize(
    "spoil",
    [
        lambda plan: plan.update(version=2),
        lambda plan: plan.update(format="upgrade-planner kit"),
        lambda plan: plan["data"].pop("steps"),
        lambda plan: plan["data"].update(policy="hasty"),
        lambda plan: plan["data"]["wires"][0].update(disposition="bend"),
        lambda plan: plan["data"]["steps"][0].update(number=1),
        lambda plan: plan["data"]["materials"][0].update(quantity="2.5"),
        lambda plan: plan["data"]["wires"][0].update(unheard_of=1),
    ],
)
def test_a_spoilt_plan_is_refused(plan, spoil):
    spoilt = copy.deepcopy(plan)
    spoil(spoilt)
    assert not judge("plan").is_valid(spoilt)


def test_readers_must_take_keys_that_come_within_a_version(plan):
    more = {**plan, "data": {**plan["data"], "later": 1}}
    assert Draft202012Validator(format_schema("plan")).is_valid(more)


@every_case(
    ("kind", "old", "new"),
    [
        ("vehicle", r'ground = "negative"', 'ground = "minus"'),
        ("vehicle", r'kind = "battery"', 'kind = "batery"'),
        ("vehicle", r'connection = "[^"]*"', 'connection = "stud M7"'),
        ("vehicle", r'covering = "[^"]*"', 'covering = "wool"'),
        ("vehicle", r"\[vehicle\]", '[vehicle]\nname = "x"'),
        ("vehicle", r'emf = "', 'emff = "'),
        ("vehicle", r"walk = \d+", 'walk = "2"'),
    ],
)
def test_a_spoilt_profile_is_refused(kind, old, new):
    text = shipped_profiles(kind)["carrier_van"].read_text(encoding="utf-8")
    spoilt, count = re.subn(old, new, text, count=1)
    assert count == 1
    assert not judge(kind).is_valid(tomllib.loads(spoilt))


class TestCommand:
    def test_an_unknown_format_is_one_clear_error(self, run, tmp_path):
        done = run("show", "--schema", "plann", cwd=tmp_path)
        assert done.returncode == 2
        assert "--schema: found 'plann'; expected 'plan', the nearest" in done.stderr
        assert "internal-quotation" in done.stderr

    def test_a_schema_of_a_profile_tells_how_an_editor_finds_it(self, run, tmp_path):
        done = run("show", "--schema", "configuration", "-o", "own.schema.json", cwd=tmp_path)
        assert done.returncode == 0, done.stderr
        assert "'#:schema own.schema.json'" in done.stdout
        said = run("show", "--schema", "configuration", cwd=tmp_path).stdout
        assert said == (tmp_path / "own.schema.json").read_text(encoding="utf-8")

    def test_a_profile_may_begin_with_that_line(self, run, tmp_path):
        run("show", "van_as_found", "-o", "mine.toml", cwd=tmp_path)
        mine = tmp_path / "mine.toml"
        mine.write_text(f"#:schema own.schema.json\n{mine.read_text(encoding='utf-8')}")
        assert run("check", "mine.toml", cwd=tmp_path).returncode in (0, 1)
