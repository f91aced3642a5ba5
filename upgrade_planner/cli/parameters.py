"""Arguments and options that several commands share, and what they need of clock and terminal."""

import sys
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

if TYPE_CHECKING:
    from rich.status import Status

DONE, DANGER, BAD_INPUT, PROGRAM_MISTAKE = 0, 1, 2, 3
BROKEN_OFF, ENDED = 130, 143
"""By Ctrl-C, and by the system: as shells count them."""


class PolicyChoice(StrEnum):
    """What happens to wires that are no longer used."""

    REVERSIBLE = "reversible"
    CLEAN = "clean"


class PaperChoice(StrEnum):
    """Paper sizes."""

    A4 = "A4"
    LETTER = "Letter"


class UnitsChoice(StrEnum):
    """Units on paper."""

    METRIC = "metric"
    US = "us"
    BOTH = "both"


class EnglishChoice(StrEnum):
    """Words on paper and screen."""

    US = "us"
    UK = "uk"


class LanguageChoice(StrEnum):
    """Languages of papers for customers, with the country whose figures they have."""

    EN = "en"
    EN_GB = "en-GB"
    EN_US = "en-US"
    DE = "de"
    DE_AT = "de-AT"
    DE_CH = "de-CH"


def configuration_names(incomplete: str) -> list[str]:
    """Shipped configurations that begin so, for a shell that completes a word."""
    from upgrade_planner.jobs.completing import profiles_from

    return profiles_from(incomplete, "configuration")


def _profiles(incomplete: str) -> list[str]:
    from upgrade_planner.jobs.completing import profiles_from

    return profiles_from(incomplete)


def configuration_argument(metavar: str, words: str) -> Any:
    """An argument that names a configuration; a shell completes the shipped ones and files."""
    return typer.Argument(
        metavar=metavar,
        help=f"{words}: shipped name or file.",
        autocompletion=configuration_names,
        show_default=False,
    )


def choice(words: str, among: type[StrEnum]) -> Any:
    """An option with a closed list of words, in small or large letters."""
    return typer.Option(help=words, metavar="|".join(among), case_sensitive=False)


Before = Annotated[str, configuration_argument("BEFORE", "Configuration as it is now")]
After = Annotated[str, configuration_argument("AFTER", "Configuration as it shall be")]
StagesAndAfter = Annotated[
    list[str],
    configuration_argument(
        "AFTER...",
        "Configuration as it shall be; for a job in stages as it is after the first stage, after "
        "the second, and so on",
    ),
]
About = Annotated[str, configuration_argument("CONFIGURATION", "What it is about")]
Profile = Annotated[
    str,
    typer.Argument(
        metavar="NAME",
        help="Configuration, vehicle or system: name or file.",
        autocompletion=_profiles,
        show_default=False,
    ),
]
Policy = Annotated[
    PolicyChoice,
    choice("reversible: cap off unused wires in looms; clean: take all of them out.", PolicyChoice),
]
Paper = Annotated[PaperChoice, choice("Paper size.", PaperChoice)]
Replace = Annotated[bool, typer.Option("--replace", help="Replace a file that is there already.")]
Units = Annotated[UnitsChoice, choice("Units on paper and screen.", UnitsChoice)]
English = Annotated[
    EnglishChoice | None,
    choice("Words on paper and screen (else as the vehicle's wire sizes).", EnglishChoice),
]
Language = Annotated[
    LanguageChoice | None,
    choice("Language of the customer's paper (else that of the shop's rates).", LanguageChoice),
]
ShopFolder = Annotated[
    Path | None,
    typer.Option(
        metavar="FOLDER",
        help="Prices, rates and times as 'upgrade-planner shop' copies them (else the invented "
        "shop's).",
    ),
]
Prices = Annotated[
    Path | None,
    typer.Option(
        metavar="FILE",
        help="Price list in place of the shop's: .csv or .xlsx beside its shop.toml, or a folder.",
    ),
]
Strict = Annotated[
    bool,
    typer.Option(
        "--strict",
        help="Refuse a price list with a faulty row (else its line is open, with a warning).",
    ),
]
JobPapers = Annotated[
    Path | None,
    typer.Option(
        "--job",
        metavar="FILE",
        help="Customer, vehicle papers, numbers, notes, work added by hand: a job.toml.",
    ),
]
Mail = Annotated[
    Path | None,
    typer.Option(metavar="FILE", help="Text for an e-mail that goes with it besides: .txt."),
]
CustomerName = Annotated[
    str,
    typer.Option(
        "--customer", metavar="NAME", help="Customer (else as --job says).", show_default=False
    ),
]
Issued = Annotated[
    str,
    typer.Option(
        "--date",
        metavar="DATE",
        help="Date of issue, YYYY-MM-DD (else SOURCE_DATE_EPOCH or today).",
        show_default=False,
    ),
]


def english_words(choice: EnglishChoice | None) -> str:
    """The English asked for; "" for that of the vehicle's trade."""
    return choice.value if choice else ""


class Progress:
    """One changing line on a terminal, so that a wait explains itself; nothing elsewhere."""

    def __enter__(self) -> "Progress":
        self._shown: Status | None = None
        if sys.stderr.isatty():
            from rich.console import Console

            screen = Console(stderr=True)
            if not screen.is_dumb_terminal:
                self._shown = screen.status("")
                self._shown.start()
        return self

    def say(self, text: str) -> None:
        """Shows what is being done now."""
        if self._shown:
            self._shown.update(f"{text} …")

    def __exit__(self, *_: object) -> None:
        if self._shown:
            self._shown.stop()
