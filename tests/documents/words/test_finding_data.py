"""Findings as data: numbers with their unit beside the words, subjects with their ids."""

from as_data import data_of
from every_case import every_case

from upgrade_planner.checks import charging_output, connections, links
from upgrade_planner.checks.examined import Examined
from upgrade_planner.configuration.values.sizes import METRIC, SAE, parse_wire_size, sizes_in
from upgrade_planner.documents.shared.finding_data import finding_data, findings_json
from upgrade_planner.documents.words.findings import finding_words
from upgrade_planner.documents.words.quantities import size_for_us


def test_value_limit_and_unit_stand_beside_the_words(load):
    examined = Examined(configuration=load("van_as_found"))
    data = [finding_data(f) for f in charging_output.output_drop(examined)]
    assert data
    for one in data:
        assert one["unit"] == "V"
        assert one["value"] > one["limit"] > 0
        assert one["subjects"][0] == {"sort": "wire", "name": one["facts"]["worst"]["name"]}
        assert one["facts"]["output"]["unit"] == "A"
        assert one["remedy"]["code"] == "fit-output-wire-of"
        assert one["remedy"]["facts"]["size"]["area_mm2"] > 0


def test_findings_tell_their_format_and_version(load):
    configuration = load("van_upgraded")
    data = data_of(findings_json(configuration, ()), ("findings", 3))
    assert data["findings"] == []


def test_same_finding_in_us_words_has_gauges_and_inches(tmp_path):
    from planting import Mistake, planted

    text = '[as_found]\nchange_wires = [{ id = "fuel-sender", size = "10 mm²" }]\n'
    mistake = Mistake(id="thick", words="", bases=("van_upgraded",), as_found=text, codes=())
    examined = Examined(configuration=planted(mistake, "van_upgraded", tmp_path))
    for finding in connections.cable_too_thick_for_blade(examined):
        assert "mm²" in finding_words(finding, "metric").what
        assert "cmil" in finding_words(finding, "us").what
        assert " in: its" in finding_words(finding, "us").what


def test_limits_of_a_link_are_told_in_inches_to_us_readers(tmp_path):
    from planting import planted
    from protection_mistakes import MISTAKES

    mistake = next(one for one in MISTAKES if "PROT-LINK-LONG" in one.codes)
    examined = Examined(configuration=planted(mistake, mistake.bases[0], tmp_path))
    (finding,) = (f for f in links.link_badly_made(examined) if f.code == "PROT-LINK-LONG")
    assert finding.value.number > finding.limit.number
    assert "at most 225 mm" in finding_words(finding, "both").what
    assert "at most 8.9 in" in finding_words(finding, "us").what
    assert "mm" not in finding_words(finding, "us").remedy


@every_case("size", [s for s in sizes_in(METRIC) if s >= sizes_in(SAE)[0]])
def test_a_link_told_to_us_readers_is_never_thicker(size):
    assert parse_wire_size(size_for_us(size, bound="most")) <= size
