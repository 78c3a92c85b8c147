"""A plan file of today says for which shop it was made; one of version 1 said less."""

import json
from pathlib import Path
from typing import Any

import pytest

from layout_app.store.errors import FileProblem
from layout_app.store.plan_file import SINCE, plan_text, read_plan
from shared.saw import verify
from tests.shared.small_plan import PLAN


def as_version_1() -> dict[str, Any]:
    """Return the small plan as it was written before there was a version 2."""
    raw: dict[str, Any] = json.loads(plan_text(PLAN)) | {"version": 1}
    for name, later in SINCE.items():
        for row in raw[name] if name else [raw]:
            for field in later:
                del row[field]
    return raw


def read(folder: Path, raw: dict[str, Any]) -> Any:
    """Read a plan from a file of this content."""
    path = folder / "plan.json"
    path.write_text(json.dumps(raw), encoding="utf-8")
    return read_plan(path)


def test_a_plan_of_version_1_is_read_and_sawn(tmp_path: Path) -> None:
    """It has its sheets and cuts, keeps its version, and no shop is taken for granted."""
    plan = read(tmp_path, as_version_1())
    assert (plan.cuts, plan.placements, plan.offcuts) == (PLAN.cuts, PLAN.placements, PLAN.offcuts)
    assert (plan.version, plan.shop, plan.rule, plan.matches) == (1, None, None, ())
    assert verify(plan) == ()


@pytest.mark.parametrize("field", ["shop", "rule", "matches"])
@pytest.mark.parametrize("kept", [True, False], ids=["null", "missing"])
def test_a_plan_of_version_2_says_for_what_it_was_made(
    tmp_path: Path, field: str, kept: bool
) -> None:
    """Without shop, rule or matched sets a file of today would escape what they are for."""
    raw = json.loads(plan_text(PLAN)) | {field: None}
    if not kept:
        del raw[field]
    with pytest.raises(FileProblem) as caught:
        read(tmp_path, raw)
    assert caught.value.place == field


@pytest.mark.parametrize(
    ("name", "field"), [(name, field) for name, fields in SINCE.items() for field in fields]
)
def test_what_came_later_is_in_no_plan_of_version_1(tmp_path: Path, name: str, field: str) -> None:
    """A file of today that calls itself older is found out by any field of its own."""
    raw, today = as_version_1(), json.loads(plan_text(PLAN))
    row, its = (raw[name][0], today[name][0]) if name else (raw, today)
    row[field] = its[field]
    with pytest.raises(FileProblem) as caught:
        read(tmp_path, raw)
    assert caught.value.place == (f"{name}[0].{field}" if name else field)
