"""``plan.json``: a plan as it is handed to others, and read back to be checked."""

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Final

import msgspec

from layout_app.store import atomic
from layout_app.store.errors import FileProblem
from layout_app.store.json_text import as_text, read_fields
from layout_app.store.older_shops import with_usual_figures
from layout_app.store.records import build, misfits_of
from shared.lengths import Unit
from shared.plan import FORMAT, VERSION, Plan
from shared.quoting import quoted

ALWAYS: Final = ("shop", "rule", "matches")
"""What a plan of today's version says, and one of version 1 did not."""
SINCE: Final = {
    "": ALWAYS,
    "parts": ("allowance", "oversize"),
    "sheets": ("cost", "by_area", "stays", "off_rule"),
}
"""The fields of version 2, by the list they stand in."""


def plan_text(plan: Plan) -> str:
    """Write a plan as JSON; lengths are whole ticks."""
    return as_text(msgspec.to_builtins(plan))


def save_plan(path: Path, plan: Plan) -> None:
    """Save a plan in one piece; `FileProblem` if it cannot be written."""
    atomic.save(path, plan_text(plan).encode())


def read_plan(path: Path) -> Plan:
    """Read a plan; `FileProblem` says where the file is not one. The saw has not seen it yet.

    One of version 1 keeps its version, and has no shop.
    """
    raw = read_fields(path, FORMAT, VERSION)
    for place, reason in _of_other_version(raw):
        raise FileProblem(path, place, reason)
    if raw.get("shop") is not None:
        raw = {**raw, "shop": with_usual_figures(raw["shop"], Unit.MM)}
    with misfits_of(path, deepest="sheets"):
        return build(Plan, raw)


def _of_other_version(raw: Mapping[str, object]) -> Iterator[tuple[str, str]]:
    """Yield place and reason of what the version of a file does not have, or what it lacks.

    Nothing of version 1 is read otherwise today: it only says less. What it could not say is
    taken as unknown, and what knows it is of a later version.
    """
    if raw["version"] != 1:
        for name in ALWAYS:
            if raw.get(name) is None:
                yield name, f"a file of version {raw['version']} says this"
        return
    for name, later in SINCE.items():
        rows = raw.get(name) if name else [raw]
        for number, row in enumerate(rows if isinstance(rows, list) else ()):
            for field in later if isinstance(row, dict) else ():
                if field in row:
                    place = f"{name}[{number}].{field}" if name else field
                    yield place, f"a file of version 1 has no {quoted(field)}"
