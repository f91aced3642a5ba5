"""The logo of a shop, as an address that holds the picture itself."""

from base64 import b64encode
from pathlib import Path

from upgrade_planner.configuration.files.texts import read_bytes
from upgrade_planner.errors import PlannerError

LARGEST_LOGO_BYTES = 2_000_000
"""Source: our assumption; every paper holds it."""

_MEDIA = {".svg": "image/svg+xml", ".png": "image/png"}
_SIGNATURES = {".svg": b"<svg", ".png": b"\x89PNG\r\n\x1a\n"}


def logo_address(rates: Path | None, logo: str) -> str:
    """
    The picture as a `data:` address; "" for none.

    Args:
        rates: File of the shop's rates, beside which the logo lies.
        logo: Name of the file as the rates have it.

    Raises:
        PlannerError: no such file, too large, or neither SVG nor PNG.
    """
    if not logo or rates is None:
        return ""
    path = rates.parent / logo
    suffix = path.suffix.lower()
    if suffix not in _MEDIA:
        raise PlannerError(f"{path}: found a logo of the sort '{suffix}'; expected .svg or .png")
    content = read_bytes(path, "a logo", LARGEST_LOGO_BYTES)
    if not _is_right(content, suffix):
        raise PlannerError(f"{path}: found content that is no {suffix[1:].upper()}; expected one")
    return f"data:{_MEDIA[suffix]};base64,{b64encode(content).decode('ascii')}"


def _is_right(content: bytes, suffix: str) -> bool:
    if suffix == ".png":
        return content.startswith(_SIGNATURES[suffix])
    return _SIGNATURES[suffix] in content
