"""The command that draws: a job, one vehicle alone, and what cannot be drawn."""

import re
from xml.etree import ElementTree

from every_case import every_case

SVG = "{http://www.w3.org/2000/svg}"
JOB = ("van_original_resistance", "van_upgraded")


def shown(path):
    return [text.text for text in ElementTree.parse(path).iter(f"{SVG}text")]


def test_each_picture_of_a_job_is_an_svg_file_that_stands_alone(run, tmp_path):
    done = run("drawings", *JOB, "-o", "x.svg", cwd=tmp_path)
    assert done.returncode == 0
    names = done.stdout.split()
    assert {"x_where.svg", "x_change_1.svg", "x_change_2.svg", "x_chart.svg"} < set(names)
    assert "x_card_alternator.svg" in names
    for name in names:
        root = ElementTree.parse(tmp_path / name).getroot()
        assert root.find(f"{SVG}title").text
        assert root.find(f"{SVG}desc").text
        assert "font/ttf" in root.find(f"{SVG}style").text
    assert re.search(r"REMOVE C[\d.]+ battery- main", " ".join(shown(tmp_path / "x_change_1.svg")))


def test_one_configuration_alone_is_a_chart(run, tmp_path):
    done = run("drawings", JOB[1], "-o", "chart.svg", cwd=tmp_path)
    assert done.stdout.split() == ["chart.svg"]
    texts = shown(tmp_path / "chart.svg")
    assert "30 → 1 (10\N{NO-BREAK SPACE}A)" in texts
    assert "off: open" in texts


def test_nothing_to_do_is_a_chart_too(run, tmp_path):
    done = run("drawings", JOB[1], JOB[1], "-o", "x.html", cwd=tmp_path)
    assert done.returncode == 0
    html = (tmp_path / "x.html").read_text("utf-8")
    assert "Where it is" not in html
    assert html.count("<svg") == 1


def test_before_and_after_are_files_in_pairs(run, tmp_path):
    done = run("drawings", *JOB, "--before-after", "-o", "x.svg", cwd=tmp_path)
    names = done.stdout.split()
    assert names[:2] == ["x_before_1.svg", "x_after_1.svg"]
    assert names == [f"x_{word}_{n}.svg" for n in (1, 2, 3) for word in ("before", "after")]
    assert "Distributor with" in " ".join(t or "" for t in shown(tmp_path / "x_before_3.svg"))


def test_a_chart_to_glue_is_several_sheets(run, tmp_path):
    done = run("drawings", JOB[1], "--glue", "-o", "x.html", cwd=tmp_path)
    assert done.returncode == 0
    html = (tmp_path / "x.html").read_text("utf-8")
    assert html.count("<svg") == html.count("· Sheet") > 1


@every_case(
    ("arguments", "told"),
    [
        (("no_such_van", "-o", "x.svg"), "no_such_van"),
        ((*JOB, "-o", "x.png"), "expected one of .pdf, .html, .svg"),
        ((*JOB, "--state", "loaded", "-o", "x.svg"), "expected one configuration"),
        ((JOB[0], "--before-after", "-o", "x.svg"), "expected two configurations"),
        ((JOB[0], "tractor_upgraded", "-o", "x.svg"), "vehicle"),
    ],
)
def test_what_cannot_be_drawn_is_told_in_a_sentence(run, tmp_path, arguments, told):
    done = run("drawings", *arguments, cwd=tmp_path)
    assert done.returncode == 2
    assert told in done.stderr
    assert list(tmp_path.iterdir()) == []
