"""A shipped target for a car that is not the shipped one."""

from pathlib import Path

import pytest
from pair_facts import sized

from upgrade_planner.comparison.comparing import compare
from upgrade_planner.comparison.wire_changes import Disposition
from upgrade_planner.configuration.loading import load_configuration
from upgrade_planner.documents.words.own_car import beyond_words, with_remarks
from upgrade_planner.planning.own_car import _reference, load_job

CAR = str(Path(__file__).parents[1] / "profiles" / "tractor_with_work_lamp.toml")
TWELVE = "six_volt_tractor_twelve_electronic"


@pytest.fixture(scope="module")
def job():
    return load_job(CAR, TWELVE)


def test_the_measured_cable_and_the_lamp_go_over(job):
    _, target = job.configurations
    assert target.runs["starter-cable"].length_m == pytest.approx(2.1)
    assert {"work-lamp", "work-lamp-feed"} <= set(target.wire_by_id)
    assert target.component("work_lamp").ratings["rated_voltage"] == 12.0
    assert target.digest != sized(TWELVE).digest


def test_no_wire_of_the_owners_lamp_comes_out(job):
    fates = {
        wire.id: change.disposition
        for change in compare(*job.configurations).wires
        for wire in change.wires
    }
    assert fates["work-lamp"] is Disposition.KEEP


def test_what_comes_from_the_car_alone_is_told_and_stands_on_the_sheet(job):
    (beyond,) = job.beyond
    assert beyond.reference == "six_volt_tractor_original"
    assert "work_lamp" in beyond.fates
    car, _ = with_remarks(job)
    assert beyond_words(beyond) in car.as_found_remarks


def test_shipped_pairs_stay_as_they_are():
    job = load_job("tractor_original", "tractor_upgraded")
    assert job.beyond == ()
    assert [one.digest for one in job.configurations] == [
        sized("tractor_original").digest,
        sized("tractor_upgraded").digest,
    ]


def test_a_worn_wire_is_no_difference_between_the_vehicles(tmp_path):
    """It is renewed for its own sake."""
    path = tmp_path / "worn.toml"
    path.write_text(
        '[configuration]\ntitle = "Mine"\nsummary = "Mine."\n'
        'based_on = "tractor_original"\n'
        '[as_found]\nchange_wires = [{ id = "horn", condition = ["burnt"] }]\n'
    )
    job = load_job(str(path), "tractor_upgraded")
    assert not any("horn" in one.fates for one in job.beyond)


def test_of_equal_systems_the_shipped_one_with_the_cars_wires_is_compared_with(tmp_path, load):
    """The guarded pickup has the systems of the original one, and other wires."""
    path = tmp_path / "mine.toml"
    path.write_text(
        '[configuration]\ntitle = "Mine"\nsummary = "Mine."\nbased_on = "pickup_original"\n'
    )
    assert load("pickup_original").systems == load("pickup_guarded").systems
    assert _reference(load_configuration(str(path))).name == "pickup_original"
