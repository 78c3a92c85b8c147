"""The first fields of every file: what it is, its version, and how long a tick is."""

from collections.abc import Mapping
from pathlib import Path

from layout_app.store.errors import FileProblem
from shared.lengths import TICK_NM
from shared.quoting import quoted


def check_header(path: Path, raw: object, expected: str, version: int) -> Mapping[str, object]:
    """Return the fields of a file of the expected format; `FileProblem` if it is another."""
    if not isinstance(raw, dict):
        raise FileProblem(path, "", f"this is JSON, but no {expected} file")
    if raw.get("format") != expected:
        found = raw.get("format")
        named = quoted(found) if isinstance(found, str) else "none"
        raise FileProblem(path, "format", f"expected “{expected}”, found {named}")
    _check_version(path, raw.get("version"), version)
    if raw.get("tick_nm", TICK_NM) != TICK_NM:
        raise FileProblem(path, "tick_nm", f"lengths must be in ticks of {TICK_NM} nm")
    return raw


def _check_version(path: Path, found: object, known: int) -> None:
    if type(found) is not int or found < 1:
        raise FileProblem(path, "version", f"expected a version from 1 to {known}")
    if found > known:
        reason = f"version {found} was written by a newer Ripfirst; this one reads up to {known}"
        raise FileProblem(path, "version", reason)
