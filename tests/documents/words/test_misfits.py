"""What stands against a system, in words for car people."""

from every_case import every_case

from upgrade_planner.documents.terminal.finds import print_fits
from upgrade_planner.documents.words.misfits import misfit_words
from upgrade_planner.library.fitting import Fit


@every_case(
    ("missing", "words"),
    [
        (
            "no terminal named 'start_signal' in small_van",
            "nothing on it is live with the key in start",
        ),
        ("no terminal named 'start_bypass' in small_van", "nothing on it is a start bypass"),
        ("no role 'charge_lamp'", "it has no charge lamp"),
        (
            "no place for the role 'alternator' in small_van",
            "no place on it is given for an alternator",
        ),
        ("something else", "something else"),
    ],
)
def test_misfits_are_said_without_names_of_the_program(missing, words):
    assert misfit_words(missing) == words


def test_list_fits_says_them(capsys):
    missing = ("no terminal named 'start_signal' in small_van", "no role 'charge_lamp'")
    print_fits("small_van", [Fit(system="starter", slot="starting", missing=missing)], [])
    shown = " ".join(capsys.readouterr().out.split())
    assert "no terminal named" not in shown
    assert "live with the key in start; and 1 more" in shown
