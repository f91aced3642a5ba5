"""The sheet of a job that was packed with alternatives says so at each wire."""

import json

import pytest
from as_data import data_of
from every_case import every_case

PAIR = ("van_original_resistance", "van_upgraded")


def sheet(run, folder, target, *options, pair=PAIR):
    """Without pictures: what a cable is packed from stands in words."""
    return run("worksheet", *pair, "-o", target, "--no-drawings", *options, cwd=folder)


@pytest.fixture
def packed(run, tmp_path):
    done = run("kit", *PAIR, "--take-alternatives", "-o", "kit.json", cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    return tmp_path / "kit.json"


def stand_ins(path):
    data = data_of(path.read_text(encoding="utf-8"))
    wires = (wire for bag in data["bags"] for wire in bag["wires"])
    return {wire["id"]: wire["packed_from"] for wire in wires if wire["packed_from"]}


def test_each_wire_with_another_cable_says_so_in_its_row_and_in_the_list(run, tmp_path, packed):
    instead = stand_ins(packed)
    assert instead
    done = sheet(run, tmp_path, "a.html", "--packed", "kit.json", "--english", "uk")
    assert done.returncode == 0, done.stderr
    text = (tmp_path / "a.html").read_text(encoding="utf-8")
    for words in instead.values():
        assert text.count(f"Packed from {words}.") == 2
    sheet(run, tmp_path, "b.html")
    assert "Packed from" not in (tmp_path / "b.html").read_text(encoding="utf-8")


def test_a_kit_of_another_job_is_refused(run, tmp_path, packed):
    other = ("van_upgraded", "van_isolator")
    done = sheet(run, tmp_path, "a.html", "--packed", "kit.json", pair=other)
    assert (done.returncode, (tmp_path / "a.html").exists()) == (2, False)
    assert "expected one for WS-" in done.stderr


@every_case(
    "text", ["", "[]", "{}", "[" * 100_000, '{"format": "x", "version": 3}', '{"data": 1}', "\x00"]
)
def test_what_is_no_kit_is_refused(run, tmp_path, text):
    (tmp_path / "kit.json").write_text(text)
    done = sheet(run, tmp_path, "a.html", "--packed", "kit.json")
    assert done.returncode == 2
    assert "expected a kit.json" in done.stderr


def test_a_text_with_tags_or_control_characters_stays_text(run, tmp_path, packed):
    data = json.loads(packed.read_text(encoding="utf-8"))
    for bag in data["data"]["bags"]:
        for wire in bag["wires"]:
            wire["packed_from"] = "<script>x</script>\u202e\u0007"
    packed.write_text(json.dumps(data), encoding="utf-8")
    sheet(run, tmp_path, "a.html", "--packed", "kit.json")
    text = (tmp_path / "a.html").read_text(encoding="utf-8")
    assert "<script>x" not in text
    assert "\x07" not in text
    assert "\u202e" not in text
