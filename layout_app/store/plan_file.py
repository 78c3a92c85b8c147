"""``plan.json``: a plan as it is handed to others, and read back to be checked."""

from pathlib import Path

import msgspec

from layout_app.store import atomic
from layout_app.store.errors import FileProblem
from layout_app.store.headers import check_header
from layout_app.store.json_text import as_text, read_json
from layout_app.store.records import Misfit, build
from shared.plan import FORMAT, VERSION, Plan


def plan_text(plan: Plan) -> str:
    """Write a plan as JSON; lengths are whole ticks."""
    return as_text(msgspec.to_builtins(plan))


def save_plan(path: Path, plan: Plan) -> None:
    """Save a plan in one piece; `FileProblem` if it cannot be written."""
    atomic.save(path, plan_text(plan).encode())


def read_plan(path: Path) -> Plan:
    """Read a plan; `FileProblem` says where the file is not one. The saw has not seen it yet."""
    raw = check_header(path, read_json(path), FORMAT, VERSION)
    try:
        return build(Plan, raw)
    except Misfit as misfit:
        raise FileProblem(path, misfit.place, misfit.reason) from None
    except RecursionError:
        raise FileProblem(path, "sheets", "a tree of cuts is nested too deeply") from None
