"""`shop`: the files of a shop, copied to be filled."""

import shutil

from upgrade_planner.kit.articles import sorts
from upgrade_planner.kit.prices.price_columns import price_columns, trait_columns

PAIR = ("van_as_found", "van_upgraded")
FILES = {"columns.txt", "job.toml", "labour.toml", "prices.csv", "rates.toml", "shop.toml"}
FILES |= {"translations.de.toml"}


def test_copies_serve_as_they_are(run, tmp_path):
    done = run("shop", "-o", "mine", cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    assert {path.name for path in (tmp_path / "mine").iterdir()} == FILES
    done = run("quote", *PAIR, "--shop", "mine", "-o", "q.json", cwd=tmp_path)
    assert done.returncode == 0, done.stderr
    assert "invented" not in done.stdout
    assert run("kit", *PAIR, "--shop", "mine", "-o", "k.json", cwd=tmp_path).returncode == 0


def test_single_files_may_stand_in_for_those_of_the_shop(run, tmp_path):
    run("shop", "-o", "mine", cwd=tmp_path)
    dear = (tmp_path / "mine" / "rates.toml").read_text("utf-8").replace('"58.00"', '"580.00"')
    (tmp_path / "dear.toml").write_text(dear, "utf-8")
    said = run(
        "quote", *PAIR, "--shop", "mine", "--rates", "dear.toml", "-o", "q.json", cwd=tmp_path
    ).stdout
    assert said != run("quote", *PAIR, "--shop", "mine", "-o", "q.json", cwd=tmp_path).stdout


def test_every_column_and_article_is_explained(run, tmp_path):
    run("shop", "-o", "mine", cwd=tmp_path)
    lines = (tmp_path / "mine" / "columns.txt").read_text("utf-8").splitlines()
    for name in (*price_columns(), *trait_columns(), *sorts()):
        assert any(line.startswith((f"{name}:", f"{name} (")) for line in lines), name


def test_own_figures_are_not_lost(run, tmp_path):
    run("shop", "-o", "mine", cwd=tmp_path)
    (tmp_path / "mine" / "prices.csv").write_text("my own", "utf-8")
    done = run("shop", "-o", "mine", cwd=tmp_path)
    assert done.returncode == 2
    assert "--replace" in done.stderr
    assert (tmp_path / "mine" / "prices.csv").read_text("utf-8") == "my own"
    assert run("shop", "-o", "mine", "--replace", cwd=tmp_path).returncode == 0


def test_refused_folders(run, tmp_path):
    (tmp_path / "file").write_text("x")
    for folder in ("file", "a/b"):
        done = run("shop", "-o", folder, cwd=tmp_path)
        assert done.returncode == 2, folder
        assert folder in done.stderr
    (tmp_path / "empty").mkdir()
    done = run("kit", *PAIR, "--shop", "empty", "-o", "k.json", cwd=tmp_path)
    assert done.returncode == 2
    assert "expected a shop's folder" in done.stderr
    shutil.rmtree(tmp_path / "empty")
    assert {path.name for path in tmp_path.iterdir()} == {"file"}
