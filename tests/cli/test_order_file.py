"""Several jobs of one order from one file."""

from as_data import data_of
from every_case import every_case

FILE = """\
[[job]]
before = "tractor_original"
after = "tractor_upgraded"
vehicles = 2
customer = "Farm at the brook"
order = "B-77"

[[job]]
before = "van_original_ballast"
after = ["van_full_voltage_points", "van_upgraded"]
"""


def kit(run, folder, *options, target="kit.json"):
    return run("kit", "-o", target, "--date", "2026-03-01", *options, cwd=folder)


def test_a_file_is_the_same_as_its_options(run, tmp_path):
    (tmp_path / "order.toml").write_text(FILE)
    done = kit(run, tmp_path, "--order", "order.toml")
    assert done.returncode == 0, done.stderr
    options = (
        "--jobs",
        "2",
        "--and",
        "van_original_ballast:van_full_voltage_points:van_upgraded:1",
    )
    args = ("tractor_original", "tractor_upgraded")
    assert run("kit", *args, "-o", "b.json", "--date", "2026-03-01", *options, cwd=tmp_path)
    one, two = (data_of((tmp_path / name).read_text()) for name in ("kit.json", "b.json"))
    assert one["lines"] == two["lines"]
    assert [job["vehicles"] for job in one["jobs"]] == [2, 1]


def test_customer_and_order_stand_at_the_job_and_on_its_labels(run, tmp_path):
    (tmp_path / "order.toml").write_text(FILE)
    assert kit(run, tmp_path, "--order", "order.toml", target="kit.html").returncode == 0
    text = (tmp_path / "kit.html").read_text()
    assert "Farm at the brook, B-77" in text


@every_case(
    ("text", "found"),
    [
        ('[[job]]\nbefore = "a"\n', "no 'after'"),
        ('[[job]]\nbefore = "a"\nafter = []\n', "empty list"),
        ('[[job]]\nbefore = "a"\nafter = "b"\nvehicles = 0\n', "0"),
        ('[[job]]\nbefore = "a"\nafter = "b"\ncustomer = "x\\u0007"\n', ""),
        ('[[jobs]]\nbefore = "a"\n', "jobs"),
    ],
)
def test_a_faulty_file_is_told_with_line_and_column(run, tmp_path, text, found):
    (tmp_path / "order.toml").write_text(text)
    done = kit(run, tmp_path, "--order", "order.toml")
    assert done.returncode == 2
    assert "order.toml:" in done.stderr
    assert found in done.stderr


@every_case("args", [(), ("van_as_found",), ("van_as_found", "van_upgraded", "--order", "o")])
def test_arguments_or_file_not_both_and_not_neither(run, tmp_path, args):
    done = kit(run, tmp_path, *args)
    assert done.returncode == 2
    assert "expected BEFORE and AFTER, or --order FILE" in done.stderr
