"""Choices on the command line: laid side by side, and any of them written."""

from argparse import Namespace
from pathlib import Path

import pytest

from layout_app.cli import plan_commands
from layout_app.cli.main import main
from layout_app.model.project import Project
from layout_app.model.words.choice_words import choices_table, difference, figures_of
from layout_app.store.plan_file import read_plan
from layout_app.store.project_file import save_project
from shared.costs import Spent
from shared.plan import Plan
from shared.saw import verify
from solver.budget.stop import Budget
from solver.outcome import Choice
from tests.solver.planning.test_choices import squares


def choice(sheets: int, price: int, minutes: int, cuts: int, setups: int) -> Choice:
    """Return a choice with these figures, of an empty plan."""
    return Choice(
        plan=Plan(name=""),
        price=price,
        spent=Spent(money=price),
        sheets=sheets,
        seconds=60 * minutes,
        cuts=cuts,
        setup_changes=setups,
    )


CHOICES = (choice(9, 95_050, 130, 105, 25), choice(10, 105_000, 98, 80, 20))


@pytest.fixture
def project(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return a file with the squares of test_front, planned by counted work."""

    def counted(arguments: Namespace) -> Budget:
        return Budget(time_s=None, work=4_000, seed=arguments.seed)

    monkeypatch.setattr(plan_commands, "limits_of", counted)
    path = tmp_path / "squares.ripfirst.json"
    save_project(path, Project(job=squares(oak=2_000)))
    return path


@pytest.mark.parametrize(("words", "sheets", "cuts"), [((), 1, 8), (("--choice", "2"), 2, 7)])
def test_the_choice_that_is_asked_for_is_written_and_marked(
    project: Path,
    capsys: pytest.CaptureFixture[str],
    words: tuple[str, ...],
    sheets: int,
    cuts: int,
) -> None:
    """8 cuts on one sheet or 7 on two, as test_front derives; without a word the first.

    Each of 4 sizes is set once, so that 3 times it is changed.
    """
    out = project.parent / "out"
    assert main(["plan", str(project), "--out", str(out), *words]) == 0
    made = read_plan(out / "plan.json")
    assert verify(made) == ()
    assert (len(made.sheets), len(made.cuts)) == (sheets, cuts)
    assert len(list(out.glob("sheet-*.svg"))) == sheets
    marks = ["> 1", "  2"] if sheets == 1 else ["  1", "> 2"]
    lines = capsys.readouterr().out.splitlines()
    head = next(n for n, line in enumerate(lines) if line.startswith("Choices"))
    assert lines[head + 1 : head + 4] == [
        "     sheets  price  minutes  cuts  set-up changes",
        f"{marks[0]}       1  20.00      120     8               3",
        f"{marks[1]}       2  40.00      110     7               3",
    ]


def test_a_choice_that_is_not_there_writes_nothing(
    project: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """One sentence says how many there are, with exit code 2."""
    out = project.parent / "out"
    assert main(["plan", str(project), "--out", str(out), "--choice", "3"]) == 2
    assert capsys.readouterr().err.endswith(
        "ripfirst plan: there is no choice 3, planning found 2 choices.\n"
    )
    assert not out.exists()


@pytest.mark.parametrize("wrong", ["0", "-1", "two"])
def test_a_choice_that_is_no_number_is_refused(
    project: Path, capsys: pytest.CaptureFixture[str], wrong: str
) -> None:
    """Choices are counted from 1."""
    words = ["plan", str(project), "--out", str(project.parent / "out"), f"--choice={wrong}"]
    assert main(words) == 2
    assert "the first is 1" in capsys.readouterr().err


def test_columns_are_aligned_whatever_the_figures() -> None:
    """Each figure ends below the end of its head, and all lines are of one length."""
    lines = list(choices_table(dict(enumerate(CHOICES, 1)), 2))
    assert len({len(line) for line in lines}) == 1
    assert [line.split() for line in lines] == [
        ["sheets", "price", "minutes", "cuts", "set-up", "changes"],
        ["1", "9", "950.50", "130", "105", "25"],
        [">", "2", "10", "1050.00", "98", "80", "20"],
    ]


def test_without_prices_there_is_no_column_for_them() -> None:
    """Sheets that cost nothing are only counted."""
    free = {1: choice(1, 0, 12, 8, 4), 2: choice(2, 0, 11, 7, 4)}
    heads = ["sheets", "minutes", "cuts", "set-up", "changes"]
    assert next(choices_table(free, 1)).split() == heads


def test_a_difference_is_said_in_words() -> None:
    """More stock, less sawing; and the same the other way round."""
    cheap, dear = CHOICES
    assert difference(dear, cheap) == (
        "1 sheet more, costs 99.50 more, about 32 min less sawing, 25 cuts fewer,"
        " 5 set-up changes fewer"
    )
    assert difference(cheap, dear) == (
        "1 sheet fewer, costs 99.50 less, about 32 min more sawing, 25 cuts more,"
        " 5 set-up changes more"
    )
    assert difference(cheap, cheap) == "takes the same"


def test_figures_are_said_in_words() -> None:
    """What it takes of the stock, and at the saw."""
    assert figures_of(choice(1, 0, 9, 1, 1)) == ("1 sheet", "about 9 min: 1 cut, 1 set-up change")
    assert figures_of(CHOICES[0]) == (
        "9 sheets, 950.50",
        "about 130 min: 105 cuts, 25 set-up changes",
    )
