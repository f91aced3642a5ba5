"""The files of a shop, copied to be filled with its own figures: the call behind `shop`."""

from pathlib import Path

from upgrade_planner.documents.kit.columns_sheet import columns_sheet
from upgrade_planner.documents.shared.writing import NotWritten, require_target, write_all
from upgrade_planner.kit.prices.shop_files import SETTINGS, shipped_shop

RATES, LABOUR = "rates.toml", "labour.toml"
OFFERS = "offers"
"""Folder of a shop in which its numbered offers are kept."""
COLUMNS = "columns.txt"
"""What each column of the price list means; made anew with each copy."""


def shop(folder: Path, *, replace: bool = False) -> tuple[Path, ...]:
    """
    Writes the files of the invented shop into a folder, all of them or none.

    Args:
        folder: Where they go; made if its parent is there.
        replace: Files of that name may be lost.

    Returns:
        What was written.

    Raises:
        NotWritten: a file of that name is there, or the folder cannot be written.
    """
    contents = {folder / path.name: path.read_bytes() for path in sorted(shipped_shop().iterdir())}
    made = _made(folder)
    try:
        for target in contents:
            require_target(target, is_edited=True, replace=replace)
        contents[folder / COLUMNS] = columns_sheet().encode()
        write_all(contents, is_edited=True)
    except BaseException:
        if made:
            folder.rmdir()
        raise
    return tuple(contents)


def _made(folder: Path) -> bool:
    """Makes the folder if it is not there; whether it did."""
    try:
        folder.mkdir()
    except FileExistsError:
        return False
    except OSError as error:
        raise NotWritten(
            f"{folder}: found no folder that can be made ({error.strerror}); expected a name in an "
            "existing, writable folder"
        ) from error
    return True


def shop_file(folder: Path | None, name: str) -> Path | None:
    """
    One file of a shop's folder; None if there is no folder, or no such file in it.

    Raises:
        PlannerError: the folder is none, or is no shop's.
    """
    if folder is None:
        return None
    if not (folder / SETTINGS).is_file():
        raise NotWritten(
            f"--shop: found no file {folder / SETTINGS}; expected a shop's folder as "
            "'upgrade-planner shop -o FOLDER' writes it"
        )
    path = folder / name
    return path if path.is_file() else None


def shop_list(folder: Path | None) -> Path | None:
    """
    A shop's folder where prices are asked for; None if there is no folder.

    Raises:
        PlannerError: the folder is no shop's.
    """
    return folder if shop_file(folder, SETTINGS) else None
