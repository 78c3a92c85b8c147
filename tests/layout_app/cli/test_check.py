"""What ``ripfirst check`` says of the file of a plan, and who says that a proof is not sawn."""

import json
from dataclasses import replace
from pathlib import Path

import pytest

from layout_app.cli.check import SAYS_LESS, faults, good_words
from layout_app.cli.main import main
from layout_app.model.words.wording import NOT_SAWN
from layout_app.paper.front_words import assumptions
from layout_app.paper.matter import matter_of
from layout_app.store.plan_file import SINCE, plan_text
from shared.job import Job
from shared.plan import MatchedSet, Plan, Proof
from tests.layout_app.small_job import planned, small_job
from tests.shared.small_plan import PLAN
from tests.shared.test_saw_shop import ALONE, CLAIMED, MATCHED
from tests.shared.wrong_plans import sheet


def checked(folder: Path, plan: Plan) -> int:
    """Return the exit code of the command for a file of a plan."""
    path = folder / "plan.json"
    path.write_text(plan_text(plan), encoding="utf-8")
    return main(["check", str(path)])


def test_check_says_that_a_proof_is_not_sawn(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Whoever raised a bound by hand is not found out, so it is said who repeats a proof."""
    assert checked(tmp_path, CLAIMED) == 0
    assert NOT_SAWN in capsys.readouterr().out.splitlines()
    assert checked(tmp_path, replace(CLAIMED, proof=Proof())) == 0
    assert NOT_SAWN not in capsys.readouterr().out


def test_the_cover_says_so_too() -> None:
    """A pack of a plan of which something is proven says that on its first page."""
    job = small_job()
    plan = planned(job)
    assert plan.proof.bound > 0
    assert NOT_SAWN in list(assumptions(matter_of(job, plan)))
    assert NOT_SAWN not in list(assumptions(matter_of(job, replace(plan, proof=Proof()))))
    assert NOT_SAWN not in list(assumptions(matter_of(Job(), Plan())))


def test_check_refuses_a_tree_of_another_plan(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The saw does not look at trees, the command does."""
    assert checked(tmp_path, sheet(0, tree=None)(PLAN)) == 2
    assert "Sheet 1: its tree of cuts is missing" in capsys.readouterr().err
    assert {one.code for one in faults(sheet(0, tree=None)(PLAN))} == {"tree-differs"}


def test_check_says_what_a_file_of_version_1_does_not_show(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """It is sawn, and what it cannot say is named."""
    raw = json.loads(plan_text(PLAN)) | {"version": 1}
    for name, later in SINCE.items():
        for row in raw[name] if name else [raw]:
            for field in later:
                del row[field]
    (tmp_path / "plan.json").write_text(json.dumps(raw), encoding="utf-8")
    assert main(["check", str(tmp_path / "plan.json")]) == 0
    out = capsys.readouterr().out.splitlines()
    assert SAYS_LESS in out
    assert SAYS_LESS not in list(good_words(PLAN))


def test_check_says_where_a_figure_breaks() -> None:
    """A set that is whole is named, one that is laid apart as well."""
    assert "Matched set Rails: the figure runs on across 2 parts." in list(good_words(MATCHED))
    apart = MatchedSet(name="Rails", columns=2, blocks=ALONE)
    said = list(good_words(replace(MATCHED, matches=(apart,))))
    assert "Matched set Rails: the figure breaks, 2 parts lie in 2 blocks on sheet 1." in said


def test_a_proof_of_another_rule_is_refused() -> None:
    """What is said of the rule, in words of now or of earlier files, is that of the plan."""
    right = "rip first, three levels and a last trim, around what is"
    rules = ((f"{right} locked", set()), (f"{right} held", set()))
    for words, codes in (*rules, ("rip first, two levels and a trim", {"proof-rule"})):
        plan = replace(CLAIMED, proof=replace(CLAIMED.proof, rule=words))
        assert {one.code for one in faults(plan)} == codes
