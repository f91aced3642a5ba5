"""`quote` as a person types it: formats, what it says, and bad input."""

import openpyxl
import pypdf
from as_data import data_of
from every_case import every_case
from pdf_words import page_text

from upgrade_planner.configuration.files.shipped import shipped_folder

VAN = ("van_original_ballast", "van_upgraded")
SMALL = ("van_upgraded", "van_voltmeter")
SHOP = shipped_folder("profiles") / "shop"


def left(folder):
    """Names of the files in a folder, the given ones left out."""
    return sorted(path.name for path in folder.iterdir() if path.suffix != ".toml")


class TestWriting:
    @every_case(
        ("suffix", "start"),
        [("pdf", b"%PDF"), ("html", b"<!DOCTYPE"), ("json", b"{"), ("xlsx", b"PK")],
    )
    def test_suffix_decides_the_format(self, run, tmp_path, suffix, start):
        done = run("quote", *SMALL, "-o", f"q.{suffix}", cwd=tmp_path)
        assert done.returncode == 0, done.stderr
        assert (tmp_path / f"q.{suffix}").read_bytes().startswith(start)
        assert left(tmp_path) == [f"q.{suffix}"]

    def test_says_price_hours_and_what_is_invented(self, run, tmp_path):
        done = run("quote", *VAN, "-o", "q.json", cwd=tmp_path)
        offer = data_of((tmp_path / "q.json").read_text(encoding="utf-8"))["offers"][0]
        assert f"£{float(offer['to_pay']):,.2f}, {offer['hours']} h" in done.stdout
        assert "shop and rates, working times and prices of parts are invented" in done.stdout

    def test_a_job_in_visits_is_a_choice_with_its_own_total(self, run, tmp_path):
        (tmp_path / "first.toml").write_text(
            '[configuration]\ntitle = "Van, ignition first"\nsummary = "x"\n'
            'based_on = "van_original_ballast"\n'
            '[systems]\nignition = "integral_coil_distributor"\n',
            encoding="utf-8",
        )
        done = run("quote", VAN[0], "first.toml", VAN[1], "-o", "q.json", cwd=tmp_path)
        assert done.returncode == 0, done.stderr
        (made,) = data_of((tmp_path / "q.json").read_text(encoding="utf-8"))["offers"]
        visits = made["options"][0]
        assert "in 2 visits" in visits["words"]
        assert "Van, ignition first" in visits["words"]
        assert float(visits["to_pay"]) > float(made["to_pay"])

    def test_own_files_of_the_shop(self, run, tmp_path):
        for name in ("rates.toml", "labour.toml"):
            (tmp_path / name).write_bytes((SHOP / name).read_bytes())
        done = run(
            "quote",
            *SMALL,
            "-o",
            "q.json",
            "--rates",
            "rates.toml",
            "--labour",
            "labour.toml",
            "--prices",
            SHOP / "prices.csv",
            cwd=tmp_path,
        )
        assert done.returncode == 0, done.stderr
        assert "invented" not in done.stdout
        assert data_of((tmp_path / "q.json").read_text(encoding="utf-8"))["invented"] == ""

    def test_longer_times_cost_more(self, run, tmp_path):
        text = (SHOP / "labour.toml").read_text(encoding="utf-8")
        (tmp_path / "slow.toml").write_text(
            text.replace("run_metre     = [2, 3, 6]", "run_metre = [20, 30, 60]"), encoding="utf-8"
        )
        sums = []
        for labour in ((), ("--labour", "slow.toml")):
            run("quote", *VAN, "-o", "q.json", *labour, cwd=tmp_path)
            data = data_of((tmp_path / "q.json").read_text(encoding="utf-8"))
            sums.append(float(data["offers"][0]["to_pay"]))
        assert sums[1] > sums[0] + 100

    def test_several_offers_and_the_paper_of_the_shop(self, run, tmp_path):
        done = run(
            "quote",
            *SMALL,
            "--or",
            "van_isolator",
            "-o",
            "q.pdf",
            "--internal",
            "in.xlsx",
            "--date",
            "2031-05-06",
            "--paper",
            "Letter",
            cwd=tmp_path,
        )
        assert done.returncode == 0, done.stderr
        assert "q.pdf: 2 offers" in done.stdout
        assert "in.xlsx: for the shop only" in done.stdout
        page = pypdf.PdfReader(tmp_path / "q.pdf").pages[0]
        assert round(float(page.mediabox.width)) == 612
        assert "6 May 2031" in page_text(page)
        names = openpyxl.load_workbook(tmp_path / "in.xlsx").sheetnames
        assert names == ["Lines A", "Sums A", "Lines B", "Sums B"]

    def test_internal_pdf(self, run, tmp_path):
        done = run("quote", *SMALL, "-o", "q.json", "--internal", "in.pdf", cwd=tmp_path)
        assert done.returncode == 0, done.stderr
        text = page_text(pypdf.PdfReader(tmp_path / "in.pdf").pages[0])
        for words in ("For the shop only", "Margin on parts", "setting up once a place saves"):
            assert words in " ".join(text.split())

    def test_policy_changes_the_offer(self, run, tmp_path):
        sums = {}
        for policy in ("reversible", "clean"):
            run("quote", *VAN, "-o", "q.json", "--policy", policy, cwd=tmp_path)
            data = data_of((tmp_path / "q.json").read_text(encoding="utf-8"))
            sums[policy] = data["offers"][0]["to_pay"]
        assert sums["reversible"] != sums["clean"]

    def test_danger_in_the_target_is_exit_code_1(self, run, tmp_path):
        done = run("quote", "pickup_upgraded", "pickup_as_found", "-o", "q.json", cwd=tmp_path)
        assert done.returncode == 1
        assert "danger finding stands" in done.stderr
        assert left(tmp_path) == ["q.json"]


class TestBadInput:
    @every_case(
        ("arguments", "said"),
        [
            ((*VAN, "-o", "q.txt"), "q.txt: found the suffix '.txt'; expected one of .pdf, .html"),
            ((*VAN, "-o", "q"), "found the suffix ''"),
            ((*VAN, "-o", "nowhere/q.pdf"), "nowhere"),
            ((*VAN, "-o", "q.pdf", "--internal", "in.html"), "in.html: found the suffix '.html'"),
            ((*VAN, "-o", "q.json", "--internal", "nowhere/in.json"), "nowhere"),
            ((*VAN, "-o", "q.json", "--internal", "./q.json"), "the same file"),
            ((*VAN, "-o", "q.json", "--date", "yesterday"), "yesterday"),
            ((*VAN, "-o", "q.json", "--rates", "none.toml"), "none.toml"),
            ((*VAN, "-o", "q.json", "--labour", "none.toml"), "none.toml"),
            ((*VAN, "-o", "q.json", "--prices", "none.csv"), "shop.toml"),
            ((*VAN, "-o", "q.json", "--rates", "float.toml"), "float.toml"),
            ((*VAN, "-o", "q.json", "--labour", "order.toml"), "order.toml"),
            (("van_original_ballast", "van_upgradde", "-o", "q.json"), "van_upgradde"),
            (("van_original_ballast", "tractor_upgraded", "-o", "q.json"), "vehicle"),
            (("van_upgraded", "van_upgraded", "-o", "q.json"), "found the same wiring"),
            ((*VAN, *["--or", "van_discharge_unit"] * 5, "-o", "q.json"), "found 6 AFTER"),
        ],
    )
    def test_one_text_and_nothing_written(self, run, tmp_path, arguments, said):
        rates = (SHOP / "rates.toml").read_text(encoding="utf-8")
        (tmp_path / "float.toml").write_text(
            rates.replace('rate  = "72.00"', "rate  = 72.00"), encoding="utf-8"
        )
        labour = (SHOP / "labour.toml").read_text(encoding="utf-8")
        (tmp_path / "order.toml").write_text(
            labour.replace("detach_end    = [0.5, 1, 3]", "detach_end = [3, 1, 0.5]"),
            encoding="utf-8",
        )
        done = run("quote", *arguments, cwd=tmp_path)
        assert done.returncode == 2
        assert said in done.stderr
        assert "Traceback" not in done.stderr
        assert left(tmp_path) == []

    def test_fault_has_file_and_line(self, run, tmp_path):
        rates = (SHOP / "rates.toml").read_text(encoding="utf-8")
        wrong = rates.replace('rate  = "72.00"', "rate  = 72.00")
        (tmp_path / "rates.toml").write_text(wrong, encoding="utf-8")
        line = wrong.splitlines().index("rate  = 72.00") + 1
        done = run("quote", *VAN, "-o", "q.json", "--rates", "rates.toml", cwd=tmp_path)
        assert f"rates.toml:{line}:" in done.stderr
        assert "in quotes" in done.stderr

    def test_a_sign_that_the_fonts_lack_spoils_no_file(self, run, tmp_path):
        rates = (SHOP / "rates.toml").read_text(encoding="utf-8")
        (tmp_path / "rates.toml").write_text(
            rates.replace("Please call", "\U00013000"), encoding="utf-8"
        )
        (tmp_path / "q.pdf").write_bytes(b"the last one")
        done = run(
            "quote",
            *SMALL,
            "-o",
            "q.pdf",
            "--internal",
            "in.json",
            "--rates",
            "rates.toml",
            cwd=tmp_path,
        )
        assert done.returncode == 2
        assert "the fonts have no character" in done.stderr
        assert (tmp_path / "q.pdf").read_bytes() == b"the last one"
        assert left(tmp_path) == ["q.pdf"]

    def test_a_tax_class_that_the_rates_have_not_has_file_row_and_column(self, run, tmp_path):
        (tmp_path / "shop.toml").write_bytes((SHOP / "shop.toml").read_bytes())
        lines = (SHOP / "prices.csv").read_text(encoding="utf-8").splitlines()
        header = lines[0].split(",")
        column = header.index("tax_class")
        for row in (4, 9):
            cells = lines[row].split(",")
            cells[column] = "standrad"
            lines[row] = ",".join(cells)
        (tmp_path / "prices.csv").write_text("\n".join(lines), encoding="utf-8")
        done = run("quote", *VAN, "-o", "q.json", "--prices", "prices.csv", cwd=tmp_path)
        assert done.returncode == 2
        assert f"prices.csv:5:{column + 1}: tax_class: found 'standrad'" in done.stderr
        assert "the first of 2 such rows; expected 'standard', the nearest" in done.stderr
        assert not (tmp_path / "q.json").exists()
