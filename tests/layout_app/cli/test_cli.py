"""The command line: exit codes, one sentence for what is wrong, and files that are whole."""

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from layout_app.cli import check
from layout_app.cli.main import main
from layout_app.store.plan_file import plan_text, read_plan
from shared.saw import verify
from solver import run as running
from solver.budget.phase import Method, Phase
from solver.line import surroundings
from tests.layout_app.store.test_store import PART, STOCK, project, written
from tests.shared.small_plan import PLAN

BANDS = {"top": "2 mm", "bottom": "300 mm", "left": 0, "right": 0}


def plan(path: Path, *more: str) -> tuple[int, Path]:
    """Plan a project for no time beyond the first plan; return exit code and folder."""
    out = path.parent / "out"
    words = ["plan", str(path), "--out", str(out), "--time-limit", "0", "--workers", "1"]
    return main([*words, "--format", "json", *more]), out


def one_sentence(capsys: pytest.CaptureFixture[str]) -> str:
    """Return what was said on standard error, which must be one line."""
    said = capsys.readouterr().err
    assert said.endswith("\n")
    assert said.count("\n") == 1
    assert "Traceback" not in said
    return said


def test_all_parts_planned_is_exit_code_0(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The plan is written, can be sawn, and the summary says how good it is."""
    code, out = plan(written(tmp_path, project(parts=[PART | {"copies": 4}])))
    said = capsys.readouterr()
    assert code == 0
    assert said.err == ""
    assert "1 sheet: fewest proven (rip first, three levels and a last trim)" in said.out
    assert "saw's manual" in said.out
    made = read_plan(out / "plan.json")
    assert verify(made) == ()
    assert len(made.placements) == 4


def test_the_search_is_compiled_before_the_first_plan_of_all(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """A run of seconds would be over before it is there; a limit of 0 does without."""
    filled: list[Path] = []
    monkeypatch.setattr(running, "is_filled", lambda folder: False)
    monkeypatch.setattr(running, "fill", filled.append)
    path = written(tmp_path, project(parts=[PART]))
    plan(path, "--time-limit", "0")
    assert not filled
    assert plan(path, "--time-limit", "1", "--replace")[0] == 0
    assert len(filled) == 1
    assert "Compiling the search for the first time" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("wrong", "need"),
    [
        ({"length": "100"}, "needs a sheet of ply of at least L 100"),
        ({"width": "48", "length": "96 1/16"}, "needs a sheet of ply of at least L 96 1/16"),
        ({"material": "oak"}, "needs a sheet of oak of at least"),
        ({"grain_rule": "along width", "length": "50"}, "needs a sheet of ply of at least L 23"),
    ],
)
def test_a_part_that_fits_no_sheet_is_exit_code_1(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], wrong: dict[str, Any], need: str
) -> None:
    """The plan for the rest is written, and the part is named with what it would need."""
    bad = PART | {"id": "b", "name": "Tall door"} | wrong
    code, out = plan(written(tmp_path, project(parts=[PART, bad])))
    said = capsys.readouterr()
    assert code == 1
    assert f"1 × Tall door: {need}" in said.out
    made = read_plan(out / "plan.json")
    assert verify(made) == ()
    assert [one.part for one in made.placements] == ["a"]
    assert [one.part for one in made.unplaced] == ["b"]


def test_two_parts_that_miss_one_sheet_by_the_kerf_take_two(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Two strips of 24 in need 48 in and a kerf (workshop.md, K4: of four 12s three come out)."""
    half = PART | {"length": "96", "width": "24", "copies": 2}
    code, out = plan(written(tmp_path, project(parts=[half])))
    assert code == 0
    assert len(read_plan(out / "plan.json").sheets) == 2


@pytest.mark.parametrize(
    ("changes", "place"),
    [
        ({"parts": []}, "job.parts"),
        ({"stock": []}, "job.stock"),
        ({"parts": [PART | {"length": 0}]}, "job.parts[0].length"),
        ({"parts": [PART | {"length": "0"}]}, "job.parts[0].length"),
        ({"parts": [PART, PART | {"id": "b", "width": "-5"}]}, "job.parts[1].width"),
        ({"parts": [PART | {"length": "1000 m"}]}, "job.parts[0].length"),
        ({"parts": [PART | {"length": "wide"}]}, "job.parts[0].length"),
        ({"parts": [PART | {"length": "1,234"}]}, "job.parts[0].length"),
        ({"parts": [PART | {"bands": BANDS | {"top": "300 mm"}}]}, "job.parts[0].bands"),
        ({"parts": [PART | {"copies": 0}]}, "job.parts[0].copies"),
        ({"parts": [PART | {"copies": -1}]}, "job.parts[0].copies"),
        ({"parts": [PART | {"copies": 10_000}]}, "job.parts[0].copies"),
        ({"stock": [STOCK | {"width": "0"}]}, "job.stock[0].width"),
        ({"stock": [STOCK | {"price": -1}]}, "job.stock[0].price"),
        ({"stock": [STOCK | {"trims": {"near": "48"}}]}, "job.stock[0].trims"),
        ({"shop": {"kerf": -1}}, "job.shop.kerf"),
        ({"shop": {"kerf": "2"}}, "job.shop.kerf"),
        ({"shop": {"turn_s": -1}}, "job.shop.turn_s"),
        ({"shop": {"lift_s": 31_536_000}}, "job.shop.lift_s: Seconds for a lift: 31,536,000 is"),
        ({"rule": {"levels": 4}}, "job.rule.levels"),
    ],
)
def test_a_job_that_makes_no_sense_is_exit_code_2(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], changes: dict[str, Any], place: str
) -> None:
    """One sentence names the file and the place, and no plan is written."""
    path = written(tmp_path, project(**changes))
    code, out = plan(path)
    assert code == 2
    assert one_sentence(capsys).startswith(f"ripfirst plan: {path}, {place}")
    assert not out.exists()


@pytest.mark.parametrize(
    ("changes", "note"),
    [
        ({"parts": [PART, PART | {"id": "b"}]}, "2 rows have this name"),
        ({"shop": {"kerf": 0}}, "kerf is 0"),
        ({"shop": {"cut_s": 0, "metre_s": 0}}, "A cut takes no time, however long it is"),
        ({"parts": [PART | {"width": "1/16"}], "shop": {"kerf": "1/8"}}, "thinner than the kerf"),
    ],
)
def test_what_only_looks_odd_is_planned_with_a_note(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], changes: dict[str, Any], note: str
) -> None:
    """Doubled names, no kerf, and a part thinner than the kerf are planned and remarked on."""
    code, out = plan(written(tmp_path, project(**changes)))
    assert code == 0
    assert note in capsys.readouterr().out
    assert verify(read_plan(out / "plan.json")) == ()


@pytest.mark.parametrize("content", ["", "{", "no", project() | {"version": 9}])
def test_a_file_that_is_no_project_is_exit_code_2(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], content: Any
) -> None:
    """Empty, cut off, not JSON, or newer: one sentence with the file's name."""
    path = written(tmp_path, content)
    assert plan(path)[0] == 2
    assert one_sentence(capsys).startswith(f"ripfirst plan: {path}")


def test_files_that_are_not_there_or_are_folders(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Planning, checking and opening them is exit code 2."""
    for words in (
        ["plan", str(tmp_path), "--out", str(tmp_path / "out")],
        ["plan", str(tmp_path / "no"), "--out", str(tmp_path / "out")],
        ["check", str(tmp_path)],
        ["check", str(tmp_path / "no")],
        [str(tmp_path / "no")],
    ):
        assert main(words) == 2
        assert str(tmp_path) in one_sentence(capsys)


def test_an_output_folder_that_cannot_be_written_in(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A file in the place of the folder is told before anything is planned."""
    path = written(tmp_path, project())
    assert main(["plan", str(path), "--out", str(path / "out")]) == 2
    assert "cannot be written in" in one_sentence(capsys)


@pytest.mark.parametrize(
    "words",
    [
        ("plan", "--choice", "9"),
        ("plan", "--format", "labels", "--labels", "30x60"),
        ("variant", "--kerf", "2 mm", "--choice", "9"),
        ("variant", "--kerf", "2 mm", "--format", "labels", "--labels", "30x60"),
        ("variant", "--kerf", "two"),
    ],
)
def test_a_refused_run_leaves_no_folder(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], words: tuple[str, ...]
) -> None:
    """Folders are made when there is something to write; one that was there stays."""
    path, there = written(tmp_path, project()), tmp_path / "there"
    there.mkdir()
    command, *rest = words
    for out in (tmp_path / "new" / "out", there):
        run = [command, str(path), "--out", str(out), "--time-limit", "0", *rest]
        assert main(run) == 2
        assert one_sentence(capsys)
    assert sorted(one.name for one in tmp_path.iterdir()) == sorted([path.name, "there"])


@pytest.mark.parametrize(
    "words",
    [
        ["plan"],
        ["plan", "x"],
        ["plan", "x", "--out"],
        ["plan", "x", "--out", "y", "--time-limit", "-1"],
        ["plan", "x", "--out", "y", "--time-limit", "soon"],
        ["plan", "x", "--out", "y", "--time-limit", "nan"],
        ["plan", "x", "--out", "y", "--workers", "0"],
        ["plan", "x", "--out", "y", "--seed", "s"],
        ["plan", "x", "--out", "y", "--format", "jpg"],
        ["plan", "x", "--out", "y", "--paper", "a9"],
        ["plan", "x", "--out", "y", "--unit", "ell"],
        ["plan", "x", "--out", "y", "--labels", "3by8"],
        ["plan", "x", "--out", "y", "--labels", "3x8,nan,0"],
        ["plan", "x", "--out", "y", "--labels", "3x8,0,inf"],
        ["plan", "x", "--out", ""],
        ["plan", "", "--out", "y"],
        ["plan", "x", "--out", "y", "--time-limit", "1e300"],
        ["plan", "x", "--out", "y", "--time-limit", "1", "--work", "5"],
        ["plan", "x", "--out", "y", "--work", "0"],
        ["plan", "x", "--out", "y", "--seed", "-1"],
        ["plan", "x", "--out", "y", "--seed", "9" * 30],
        ["plan", "x", "--out", "y", "--choice", "9" * 5000],
        ["check", " "],
        ["demo", "--out", ""],
        [""],
        ["check"],
        ["--fast"],
        ["one.json", "two.json"],
    ],
)
def test_a_command_line_that_cannot_be_understood(
    capsys: pytest.CaptureFixture[str], words: list[str]
) -> None:
    """It is exit code 2 and one sentence that points to the help."""
    assert main(words) == 2
    assert "--help" in one_sentence(capsys)


def test_help_is_exit_code_0(capsys: pytest.CaptureFixture[str]) -> None:
    """The help names all commands and the exit codes."""
    assert main(["--help"]) == 0
    said = capsys.readouterr().out
    for word in ("plan", "check", "demo", "PROJECT", "Exit codes"):
        assert word in said


HALVES = PART | {"copies": 2, "length": "96", "width": "24"}


def test_advise_says_what_would_save_a_sheet(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Two halves of a sheet lack a kerf of 1/8 in: 1/16 in each saves the second sheet."""
    path = written(tmp_path, project(parts=[HALVES]))
    assert main(["advise", str(path), "--workers", "1", "--time-limit", "10"]) == 0
    said = capsys.readouterr().out
    assert "1/16 in narrower, all 2 of them" in said
    assert "1 sheet instead of 2" in said
    assert "saw's manual" in said


@pytest.mark.parametrize("length", ["0", "-1", "a bit"])
def test_a_limit_that_is_no_length(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], length: str
) -> None:
    """How much shorter a part may get has to be a length above 0."""
    path = written(tmp_path, project(parts=[HALVES]))
    words = ["advise", str(path), "--workers", "1", "--time-limit", "0"]
    assert main([*words, f"--shorten-up-to={length}"]) == 2
    assert one_sentence(capsys).startswith("ripfirst advise: ")


def test_check_accepts_a_plan_that_can_be_sawn(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """It says what was sawn, from the file alone."""
    path = written(tmp_path, plan_text(PLAN))
    assert main(["check", str(path)]) == 0
    assert "1 sheet with 6 cuts and found 3 parts as promised" in capsys.readouterr().out


def test_check_refuses_a_plan_with_a_wrong_cut(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A cut moved by one tick is found, and the sentence says which."""
    raw = json.loads(plan_text(PLAN))
    raw["cuts"][1]["y"] += 1
    path = written(tmp_path, raw)
    assert main(["check", str(path)]) == 2
    assert one_sentence(capsys).startswith(f"ripfirst check: {path}")


def test_a_fault_of_the_program_is_a_sentence_too(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """What nobody foresaw is told as a fault of the program, without a traceback."""

    def broken(_: Path) -> None:
        raise KeyError("x")

    monkeypatch.delenv("RIPFIRST_DEBUG", raising=False)
    monkeypatch.setattr(check, "read_plan", broken)
    assert main(["check", str(tmp_path)]) == 2
    assert "fault of this program" in one_sentence(capsys)


def test_the_command_in_a_process_of_its_own(tmp_path: Path) -> None:
    """Two processes plan, nothing but the summary is printed, and Qt is not loaded."""
    path = written(tmp_path, project(parts=[PART | {"copies": 4}]))
    code = (
        "import sys; from layout_app.cli.main import main; code = main(sys.argv[1:]);"
        "assert not [name for name in sys.modules if name.startswith('PySide6')];"
        "sys.exit(code)"
    )
    words = ["plan", str(path), "--out", str(tmp_path / "out"), "--format", "json"]
    ended = subprocess.run(
        [sys.executable, "-c", code, *words, "--time-limit", "1", "--workers", "2"],
        capture_output=True,
        text=True,
        check=False,
        env=surroundings(),
    )
    assert (ended.returncode, ended.stderr) == (0, "")
    assert "fewest proven" in ended.stdout


def test_both_formats_are_written_and_old_drawings_are_named(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """One drawing a sheet stands beside the plan; one of an earlier plan is remarked on."""
    path = written(tmp_path, project())
    out = tmp_path / "out"
    out.mkdir()
    (out / "sheet-9.svg").write_text("old")
    words = ["plan", str(path), "--out", str(out), "--time-limit", "0", "--workers", "1"]
    assert main(words) == 0
    assert sorted(one.name for one in out.iterdir()) == ["plan.json", "sheet-1.svg", "sheet-9.svg"]
    assert "sheet-9.svg there belongs to an earlier plan" in capsys.readouterr().out


def test_verbose_says_what_planning_did(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """On standard error: a block for the material, its phases, and the steps of the best plan."""
    path = written(tmp_path, project())
    words = ["plan", str(path), "--out", str(tmp_path / "out"), "--workers", "1"]
    assert main([*words, "--time-limit", "0.3", "--verbose"]) == 0
    said = capsys.readouterr().err.splitlines()
    assert said[0].startswith("Planning of ")
    table = [line for line in said if line.startswith("  ")]
    assert table[0].split() == [
        "process",
        "phase",
        "from",
        "s",
        "to",
        "s",
        *["what", "was", "done"],
    ]
    assert any(phase in line for line in table for phase in Phase)
    heading = next(n for n, line in enumerate(table) if " of the best plan and its bound" in line)
    assert "value" in table[heading + 1]
    assert str(Method.CONSTRUCTION) in table[heading + 2]


def test_without_verbose_nothing_is_said_on_standard_error(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A plan that went well leaves standard error empty."""
    plan(written(tmp_path, project()))
    assert capsys.readouterr().err == ""
