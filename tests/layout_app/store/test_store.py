"""Files: what is saved comes back, and whatever is wrong is said with its place."""

import json
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from layout_app.model.project import Project
from layout_app.store.errors import FileProblem
from layout_app.store.json_text import as_text
from layout_app.store.plan_file import plan_text, read_plan, save_plan
from layout_app.store.project_file import VERSION, project_text, read_project, save_project
from shared.job import Job
from shared.layout import Hold, Layout, Waiting
from shared.lengths import INCH, MM
from shared.plan import Proof
from shared.saw import verify
from tests.shared.small_plan import PLAN
from tests.strategies import LaidOut, holds, laid_out

PART: dict[str, Any] = {
    "id": "a",
    "name": "Side",
    "length": "23 1/4",
    "width": "590.5 mm",
    "material": "ply",
}
STOCK: dict[str, Any] = {
    "id": "s",
    "name": "Ply",
    "material": "ply",
    "length": "96",
    "width": "48",
    "thickness": "0.703",
}


def project(**changes: Any) -> dict[str, Any]:
    """Return a project as a maker may write it by hand."""
    job = {"parts": [PART], "stock": [STOCK]} | changes
    return {"format": "ripfirst-project", "version": 1, "tick_nm": 25, "job": job}


def written(folder: Path, content: Any) -> Path:
    """Write JSON, text or bytes to a file."""
    path = folder / "some.ripfirst.json"
    if not isinstance(content, (str, bytes)):
        content = json.dumps(content)
    path.write_bytes(content if isinstance(content, bytes) else content.encode())
    return path


def problem(folder: Path, content: Any) -> FileProblem:
    """Return what reading the content says."""
    with pytest.raises(FileProblem) as caught:
        read_project(written(folder, content))
    return caught.value


@settings(max_examples=30, deadline=None, derandomize=True)
@given(laid_out().flatmap(lambda laid: st.tuples(st.just(laid), holds(laid.sheets))))
def test_a_project_comes_back_as_it_was_saved(drawn: tuple[LaidOut, tuple[Hold, ...]]) -> None:
    """Saved and read again, every field of job and layout is the same."""
    laid, held = drawn
    waiting = (Waiting(part="p1", copy=1, sent=True),)
    layout = Layout(sheets=laid.sheets, waiting=waiting, holds=held)
    whole = Project(job=laid.job, layout=layout if laid.job.parts else Layout())
    with TemporaryDirectory() as folder:
        path = Path(folder) / "p.json"
        save_project(path, whole)
        assert read_project(path) == whole


def test_a_plan_comes_back_as_it_was_saved(tmp_path: Path) -> None:
    """Saved and read again a plan is the same, and the saw still accepts it."""
    save_plan(tmp_path / "plan.json", PLAN)
    again = read_plan(tmp_path / "plan.json")
    assert again == PLAN
    assert verify(again) == ()


def test_keys_of_a_plan_file() -> None:
    """The file has the keys and integer lengths it is documented with, none with a hyphen."""
    raw = json.loads(plan_text(PLAN))
    assert list(raw) == [
        *("format", "version", "tick_nm", "name", "parts", "sheets", "placements"),
        *("cuts", "offcuts", "proof", "unplaced", "first", "finished", "shop", "rule", "matches"),
    ]
    assert (raw["format"], raw["version"], raw["tick_nm"]) == ("ripfirst-plan", 2, 25)
    assert set(raw["parts"][0]) == {
        *("id", "name", "length", "width", "copies", "material", "grain_rule", "group"),
        *("sawn_length", "sawn_width", "waits", "show", "allowance", "oversize"),
    }
    assert set(raw["placements"][0]) == {
        *("part", "copy", "sheet", "x", "y", "length", "width", "turned"),
    }
    cut = {"number", "sheet", "kind", "level", "tool", "kerf", "x", "y", "length", "width"}
    assert cut | {"piece", "setup", "running", "size", "keep"} <= set(raw["cuts"][0])
    assert {"id", "stock", "material", "thickness", "length", "width", "grain", "trims"} <= set(
        raw["sheets"][0]
    )
    assert {"goal", "value", "bound", "proven", "rule"} <= set(raw["proof"])
    assert all("-" not in key for key in _keys(raw))
    assert all(isinstance(raw["cuts"][0][key], int) for key in ("x", "y", "length", "width"))


def _keys(value: Any) -> list[str]:
    if isinstance(value, dict):
        return [*value, *(key for inner in value.values() for key in _keys(inner))]
    if isinstance(value, list):
        return [key for inner in value for key in _keys(inner)]
    return []


def test_lengths_written_by_hand_are_read_exactly(tmp_path: Path) -> None:
    """Text lengths are read as in the tables, and saved as ticks (1 in = 25.4 mm, 1959)."""
    read = read_project(written(tmp_path, project()))
    assert read.job.parts[0].length == 93 * INCH // 4
    assert read.job.parts[0].width == 5905 * MM // 10
    assert read.job.stock[0].thickness == 703 * INCH // 1000
    assert json.loads(project_text(read))["job"]["parts"][0]["length"] == 93 * INCH // 4


def test_bare_numbers_as_text_are_in_the_unit_of_the_job(tmp_path: Path) -> None:
    """In a project in millimetres "600" is 600 mm."""
    metric = project(parts=[PART | {"length": "600"}], style={"unit": "mm"})
    assert read_project(written(tmp_path, metric)).job.parts[0].length == 600 * MM


def test_saved_text_is_readable() -> None:
    """What fits goes on one line, and no line of a plan is long."""
    assert as_text({"a": [1, 2], "b": {"c": None}}) == '{"a": [1, 2], "b": {"c": null}}\n'
    assert max(len(line) for line in plan_text(PLAN).splitlines()) < 160
    assert as_text({"name": "Schrank für Käfer"}) == '{"name": "Schrank für Käfer"}\n'


SCREWS = {"steps": [], "hardware": [{"name": "screws", "count": -12}]}


@pytest.mark.parametrize(
    ("content", "place", "reason"),
    [
        ("", "", "empty"),
        (" \n ", "", "empty"),
        (json.dumps(project())[:-40], "line 1", "cut off"),
        ("{", "line 1", "cut off"),
        ("parts: none", "line 1, column 1", "not JSON"),
        ('{"format": "ripfirst-project",, }', "line 1, column 31", "not JSON"),
        (b"\xff\xfe\x00", "", "not text"),
        ("[1, 2]", "", "no ripfirst-project file"),
        ({"format": "ripfirst-plan", "version": 1}, "format", "ripfirst-project"),
        ({"version": 1}, "format", "found none"),
        (project() | {"version": VERSION + 1}, "version", "newer Ripfirst"),
        (project() | {"version": "1"}, "version", "version"),
        (project() | {"version": 0}, "version", "version"),
        (project() | {"tick_nm": 100}, "tick_nm", "25 nm"),
        ('{"format": "ripfirst-project", "format": "x"}', "", "twice"),
        ('{"format": "ripfirst-project", "version": NaN}', "", "no number"),
        ("[" * 100_000, "", "nested too deeply"),
        (project(parts=[PART | {"length": "1,234"}]), "job.parts[0].length", "1.234 in"),
        (project(parts=[PART | {"length": "tall"}]), "job.parts[0].length", "“tall”"),
        (project(parts=[PART, PART]), "job.parts[0].id", "twice"),
        (project(stock=[STOCK, STOCK]), "job.stock[0].id", "twice"),
        (project(parts=[PART | {"id": ""}]), "job.parts[0].id", "empty"),
        (project(parts=[PART | {"copies": "two"}]), "job.parts[0].copies", "a whole number"),
        (project(parts=[PART | {"copies": 1.5}]), "job.parts[0].copies", "1.5"),
        (project(parts=[PART | {"copies": True}]), "job.parts[0].copies", "true"),
        (project(parts=[PART | {"copies": 10**17}]), "job.parts[0].copies", "too large"),
        (project(parts=[PART | {"copies": 10**30}]), "", "too large"),
        (project(parts=[PART | {"colour": "red"}]), "job.parts[0].colour", "no field"),
        (project(parts=[{"id": "a"}]), "job.parts[0]", "“name” is missing"),
        (project(parts=[PART | {"grain_rule": "up"}]), "job.parts[0].grain_rule", "along length"),
        (project(parts=[PART, 7]), "job.parts[1]", "named fields"),
        (project(parts={"a": PART}), "job.parts", "a list"),
        (project(parts=[PART | {"bands": {"top": "x"}}]), "job.parts[0].bands.top", "“x”"),
        (project(style={"denominator": 10}), "job.style", "16ths"),
        (
            project(area_prices=[{"material": "birch ply", "price": -1, "per": "sq ft"}]),
            "job.area_prices[0]",
            "0 or more",
        ),
        (project() | {"build": SCREWS}, "build.hardware[0]", "0 or more"),
        (project(stock=[STOCK | {"named": -1}]), "job.stock[0].named", "fewer than 0"),
        (project() | {"layout": None}, "layout", "null"),
    ],
)
def test_what_is_wrong_with_a_project_file(
    tmp_path: Path, content: Any, place: str, reason: str
) -> None:
    """Every fault is one sentence with the file, the place in it, and the reason."""
    found = problem(tmp_path, content)
    assert found.path == tmp_path / "some.ripfirst.json"
    assert found.place.startswith(place)
    assert bool(found.place) is bool(place)
    assert reason in found.reason
    assert "\n" not in str(found)
    assert str(found).startswith(str(found.path))


SHEET = {"id": "1", "stock": "s"}
LYING = {"part": "a", "copy": 1, "sheet": "1", "x": 0, "y": 0, "length": 1, "width": 1}
HOLD = {"scope": "part", "sheet": "1", "part": "a", "copy": 1}
TREE = {"axis": "rip", "pieces": [{"size": 1, "place": {"part": "z", "copy": 1}}]}


@pytest.mark.parametrize(
    ("layout", "place", "reason"),
    [
        ({"holds": [HOLD | {"part": "z"}]}, "layout.holds[0].part", "no part"),
        ({"holds": [HOLD | {"part": ""}]}, "layout.holds[0].part", "no part"),
        ({"holds": [HOLD | {"sheet": ""}]}, "layout.holds[0].sheet", "empty"),
        ({"holds": [HOLD | {"scope": "corner"}]}, "layout.holds[0].scope", "sheet, strip, part"),
        (
            {"holds": [HOLD | {"lies": LYING | {"sheet": "2"}}]},
            "layout.holds[0].lies.sheet",
            "sheet “1”",
        ),
        (
            {"holds": [HOLD | {"lies": LYING | {"copy": 2}}]},
            "layout.holds[0].lies.part",
            "another part",
        ),
        ({"sheets": [SHEET | {"stock": "t"}]}, "layout.sheets[0].stock", "no stock row"),
        ({"sheets": [SHEET, SHEET]}, "layout.sheets[0].id", "twice"),
        (
            {"sheets": [SHEET | {"placements": [LYING | {"part": "z"}]}]},
            "layout.sheets[0].placements[0].part",
            "no part with the id “z”",
        ),
        (
            {"sheets": [SHEET | {"placements": [LYING | {"sheet": "2"}]}]},
            "layout.sheets[0].placements[0].sheet",
            "listed under",
        ),
        (
            {"sheets": [SHEET | {"tree": TREE}]},
            "layout.sheets[0].tree.pieces[0].place.part",
            "no part",
        ),
        ({"waiting": [{"part": "z", "copy": 1}]}, "layout.waiting[0].part", "no part"),
    ],
)
def test_ids_that_lead_nowhere(
    tmp_path: Path, layout: dict[str, Any], place: str, reason: str
) -> None:
    """A layout names only parts and stock that there are, each sheet once."""
    found = problem(tmp_path, project() | {"layout": layout})
    assert found.place == place
    assert reason in found.reason


def test_a_folder_or_nothing_is_no_file(tmp_path: Path) -> None:
    """A folder and a name without a file are told apart."""
    with pytest.raises(FileProblem, match="a folder, not a file"):
        read_project(tmp_path)
    with pytest.raises(FileProblem, match="no such file"):
        read_project(tmp_path / "nothing.json")
    with pytest.raises(FileProblem, match="a folder, not a file"):
        save_project(tmp_path, Project())


def test_a_file_that_may_not_be_read_says_so(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What the system says is the reason; simulated, for an administrator may read all files."""

    def refuse(_: Path, mode: str) -> bytes:
        raise PermissionError(13, "Permission denied")

    path = written(tmp_path, project())
    monkeypatch.setattr(Path, "open", refuse)
    with pytest.raises(FileProblem, match="cannot be read: permission denied"):
        read_project(path)


def test_half_a_letter_makes_nothing_impossible(tmp_path: Path) -> None:
    """A name with half a letter is saved with the replacement character, two halves as a letter."""
    named = Project(job=Job(name="Top \ud800, \ud83e\ude9a"))
    save_project(tmp_path / "p.json", named)
    assert read_project(tmp_path / "p.json").job.name == "Top \ufffd, \U0001fa9a"
    by_hand = json.dumps(project() | {"job": {"name": "\ud800"}})
    assert read_project(written(tmp_path, by_hand)).job.name == "\ufffd"


@pytest.mark.parametrize(
    ("change", "place"),
    [
        ({"version": 9}, "version"),
        ({"format": "other"}, "format"),
        ({"cuts": [{}]}, "cuts[0]"),
        ({"sheets": 3}, "sheets"),
        ({"extra": 1}, "extra"),
    ],
)
def test_what_is_wrong_with_a_plan_file(tmp_path: Path, change: dict[str, Any], place: str) -> None:
    """Faults of a plan file have their place, too."""
    path = written(tmp_path, json.loads(plan_text(PLAN)) | change)
    with pytest.raises(FileProblem) as caught:
        read_plan(path)
    assert caught.value.place == place


def test_an_empty_project_is_saved_and_read(tmp_path: Path) -> None:
    """The project of a new window survives, with the empty proof it has."""
    save_project(tmp_path / "p.json", Project())
    again = read_project(tmp_path / "p.json")
    assert again == Project()
    assert again.proof == Proof()


def test_match_groups_and_allowances_are_saved(tmp_path: Path) -> None:
    """A group, its rows and an allowance come back; a file of before has none of them."""
    old = read_project(written(tmp_path, project()))
    assert (old.job.groups, old.job.parts[0].group, old.job.parts[0].fit_allowance) == ((), "", 0)
    part = PART | {"group": "Fronts", "fit_allowance": "1/4"}
    new = project(parts=[part], groups=[{"name": "Fronts", "columns": 2}])
    read = read_project(written(tmp_path, new))
    assert read.job.columns_of("Fronts") == 2
    assert (read.job.parts[0].group, read.job.parts[0].fit_allowance) == ("Fronts", INCH // 4)
    save_project(tmp_path / "again.json", read)
    assert read_project(tmp_path / "again.json") == read
    twice = project(groups=[{"name": "Fronts"}, {"name": "Fronts"}])
    assert problem(tmp_path, twice).place == "job.groups[0].name"
