"""Eight screens as a person sees them in 80 columns, for the golden files."""

from places import GOLDEN

FOLDER = GOLDEN / "screens"

SCREENS = {
    "compare": ("compare", "tractor_original", "tractor_upgraded"),
    "check": ("check", "van_as_found"),
    "readings": ("readings", "van_upgraded", "--state", "idling"),
    "list": ("list",),
    "list_pairs": ("list", "--pairs"),
    "show": ("show", "six_volt_tractor_original"),
    "list_fits": ("list", "--fits", "row_tractor"),
    "target": ("target", "tractor_original", "--charging", "?"),
}
"""What is typed for each, by the name of its golden file."""


def shown(run, name, folder, columns=80):
    """What a command prints in that many columns, called in an empty folder."""
    done = run(*SCREENS[name], cwd=folder, COLUMNS=str(columns))
    assert done.returncode in (0, 1), done.stderr
    return done.stdout
