"""Parts as the clipboard carries them from one project to another, in this window or the next.

JSON in the manner of a project file: what it is, its version, how long a tick is, and the parts.
"""

from pathlib import Path
from typing import Final

import msgspec

from layout_app.store.json_text import as_text, fields_of
from layout_app.store.records import Misfit, build, misfits_of
from shared.lengths import TICK_NM
from shared.parts import Part

FORMAT: Final = "ripfirst-parts"
VERSION: Final = 1
MIME: Final = "application/vnd.ripfirst.parts+json"
"""What other windows know it by."""


def parts_text(parts: tuple[Part, ...]) -> str:
    """Write parts as JSON; their ids are left out, since each project gives its own."""
    rows = [msgspec.to_builtins(part) | {"id": ""} for part in parts]
    return as_text({"format": FORMAT, "version": VERSION, "tick_nm": TICK_NM, "parts": rows})


def parts_of(data: bytes) -> tuple[Part, ...]:
    """Return the parts that a text gives; `FileProblem` says where it gives none."""
    where = Path("clipboard")
    raw = fields_of(where, data, FORMAT, VERSION).get("parts")
    with misfits_of(where):
        if not isinstance(raw, list):
            raise Misfit("parts", "expected a list")
        return tuple(build(Part, one, f"parts[{at}]") for at, one in enumerate(raw))
