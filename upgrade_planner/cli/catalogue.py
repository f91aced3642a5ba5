"""Commands about the library of profiles: what there is, and copies to edit."""

from pathlib import Path
from typing import Annotated, Any

import typer

from upgrade_planner.cli.application import app
from upgrade_planner.cli.parameters import (
    English,
    Profile,
    Progress,
    Replace,
    Units,
    UnitsChoice,
    configuration_names,
    english_words,
)
from upgrade_planner.cli.saying import say
from upgrade_planner.errors import PlannerError

AsJson = Annotated[bool, typer.Option("--json", help="As data instead of a table.")]


def _filter(words: str) -> Any:
    return typer.Option(metavar="WORDS", help=words, show_default=False)


def _vehicles(incomplete: str) -> list[str]:
    from upgrade_planner.jobs.completing import profiles_from

    return profiles_from(incomplete, "vehicle")


def _kinds(incomplete: str) -> list[str]:
    from upgrade_planner.jobs.completing import kinds_from

    return kinds_from(incomplete)


def _formats(incomplete: str) -> list[str]:
    from upgrade_planner.jobs.completing import formats_from

    return formats_from(incomplete)


@app.command("list")
def list_profiles(
    as_json: AsJson = False,
    voltage: Annotated[str, _filter("Configurations of that system voltage: 6, 12, 24.")] = "",
    ground: Annotated[str, _filter("Grounded terminal: negative or positive.")] = "",
    cylinders: Annotated[str, _filter("Number of cylinders.")] = "",
    engine: Annotated[str, _filter("Words for the engine: six, V8, flat four.")] = "",
    body: Annotated[str, _filter("Words for the body: van, tractor.")] = "",
    charging: Annotated[str, _filter("Words for the charging: dynamo, internal, lamp.")] = "",
    ignition: Annotated[str, _filter("Words for the ignition: points, ballast, module.")] = "",
    starting: Annotated[str, _filter("Words for the starting: relay, bypass, pedal.")] = "",
    indicator: Annotated[str, _filter("Charge indicator: lamp, ammeter, voltmeter.")] = "",
    vehicle: Annotated[str, _filter("Words in the name of the vehicle.")] = "",
    from_: Annotated[
        str,
        typer.Option(
            "--from",
            metavar="CONFIGURATION",
            autocompletion=configuration_names,
            help="What this configuration can be upgraded to.",
        ),
    ] = "",
    to: Annotated[
        str,
        typer.Option(
            "--to",
            metavar="CONFIGURATION",
            autocompletion=configuration_names,
            help="What can be upgraded to this one.",
        ),
    ] = "",
    fits: Annotated[
        str,
        typer.Option(
            "--fits",
            metavar="VEHICLE",
            autocompletion=_vehicles,
            help="Systems that fit this vehicle.",
        ),
    ] = "",
    systems: Annotated[bool, typer.Option("--systems", help="Systems, by slot.")] = False,
    pairs: Annotated[bool, typer.Option("--pairs", help="Ready upgrades, in plain words.")] = False,
    english: English = None,
) -> None:
    """
    List what is shipped, or find it by what one sees.

    Options ask for upgrades of a configuration and for systems that fit a vehicle. Words may be
    parts of words, in any order; several options narrow the choice.

    Example: upgrade-planner list --charging dynamo --ground positive

    Example: upgrade-planner list --pairs
    """
    given = {
        "voltage": voltage,
        "ground": ground,
        "cylinders": cylinders,
        "engine": engine,
        "body": body,
        "charging": charging,
        "ignition": ignition,
        "starting": starting,
        "indicator": indicator,
        "vehicle": vehicle,
    }
    filters = {name: text for name, text in given.items() if text.strip()}
    _require_one_question(
        {"--from": from_, "--to": to, "--fits": fits, "--pairs": pairs, "--systems": systems},
        filters,
    )
    words = english_words(english)
    if systems:
        _list_systems(words, as_json)
    elif pairs:
        _list_pairs(words, as_json)
    elif fits:
        _list_fits(fits, words, as_json)
    elif from_ or to:
        _list_upgrades(from_ or to, filters, words, is_from=bool(from_), as_json=as_json)
    elif filters:
        _list_finds(filters, words, as_json)
    else:
        _list_everything(words, as_json)


def _require_one_question(questions: dict[str, str | bool], filters: dict[str, str]) -> None:
    asked = [name for name, value in questions.items() if value]
    if filters and not {"--from", "--to"} & set(asked):
        asked += [f"--{name}" for name in filters] if asked else []
    if len(asked) > 1:
        raise PlannerError(f"list: found {' and '.join(asked)}; expected one of them at a time")


def _list_systems(english: str, as_json: bool) -> None:
    from upgrade_planner.documents.terminal.catalogue import print_systems, systems_json

    if as_json:
        typer.echo(systems_json(), nl=False)
    else:
        print_systems(english)


def _list_everything(english: str, as_json: bool) -> None:
    from upgrade_planner.documents.terminal.catalogue import catalogue_json, print_catalogue

    if not as_json:
        print_catalogue(english)
        return
    from upgrade_planner.jobs import list as job

    with Progress() as progress:
        library = job.everything(progress.say)
    typer.echo(catalogue_json(library), nl=False)


def _list_pairs(english: str, as_json: bool) -> None:
    from upgrade_planner.documents.terminal.catalogue import pairs_json, print_pairs

    if as_json:
        typer.echo(pairs_json(), nl=False)
    else:
        print_pairs(english)


def _list_finds(filters: dict[str, str], english: str, as_json: bool) -> None:
    from upgrade_planner.documents.terminal.finds import finds_json, print_finds
    from upgrade_planner.jobs import list as job

    with Progress() as progress:
        found = job.finds(filters, progress.say)
    if as_json:
        typer.echo(finds_json(found), nl=False)
    else:
        print_finds(found, english)


def _list_upgrades(
    name: str, filters: dict[str, str], english: str, *, is_from: bool, as_json: bool
) -> None:
    from upgrade_planner.documents.terminal.upgrades import print_upgrades, upgrades_json
    from upgrade_planner.jobs import list as job

    with Progress() as progress:
        found = job.upgrades(name, filters, is_from=is_from, say=progress.say)
    if as_json:
        typer.echo(upgrades_json(found), nl=False)
    else:
        print_upgrades(found, name, english)


def _list_fits(vehicle: str, english: str, as_json: bool) -> None:
    from upgrade_planner.documents.terminal.finds import fits_json, print_fits
    from upgrade_planner.jobs import list as job

    found, left_out = job.fits(vehicle)
    if as_json:
        typer.echo(fits_json(vehicle, found, left_out), nl=False)
    else:
        print_fits(vehicle, found, left_out, english)


@app.command()
def show(
    name: Profile = "",
    output: Annotated[
        Path | None,
        typer.Option(
            "-o",
            "--output",
            metavar="FILE",
            help="Copy: .toml the profile to edit, .csv the wires of a configuration, .json the "
            "schema.",
        ),
    ] = None,
    units: Units = UnitsChoice.BOTH,
    english: English = None,
    replace: Replace = False,
    all_kinds: Annotated[
        bool, typer.Option("--kinds", help="All kinds of part that a profile can name.")
    ] = False,
    kind: Annotated[
        str,
        typer.Option(
            "--kind",
            metavar="NAME",
            autocompletion=_kinds,
            help="One kind: terminals, ratings with unit and example.",
        ),
    ] = "",
    schema: Annotated[
        str,
        typer.Option(
            "--schema",
            metavar="FORMAT",
            autocompletion=_formats,
            help="JSON Schema of a file: vehicle, system, configuration, plan, findings, kit, …",
        ),
    ] = "",
) -> None:
    """
    Show a profile, or copy it to a file of your own.

    Example: upgrade-planner show van_as_found -o my_van.toml

    Example: upgrade-planner show --kind alternator_internal_regulator

    Example: upgrade-planner show --schema configuration -o configuration.schema.json
    """
    if schema:
        _show_schema(schema, output)
        return
    if all_kinds or kind:
        from upgrade_planner.documents.terminal.kinds import kind_lines, one_kind_lines

        for line in one_kind_lines(kind) if kind else kind_lines():
            say(line)
        return
    if not name:
        raise PlannerError(
            "show: found no name; expected a profile, --kinds, --kind NAME or --schema FORMAT"
        )
    from upgrade_planner.jobs import show as job

    with Progress() as progress:
        progress.say("reading the profile")
        shown = job.show(name) if output is None else None
        told = job.copied(name, output, replace=replace) if output else ""
    if shown is None:
        say(told)
    else:
        from upgrade_planner.documents.terminal.screens import print_profile

        print_profile(shown, units.value, english_words(english))


def _show_schema(name: str, output: Path | None) -> None:
    from upgrade_planner.jobs import show as job

    if output is None:
        typer.echo(job.schema(name), nl=False)
    else:
        say(job.schema_copied(name, output))
