"""The tree of cuts in a plan's file is held against the cuts and parts that are listed."""

from dataclasses import replace

import pytest
from hypothesis import given, settings

from layout_app.cli.check import wrong_trees
from shared.cuts.sequence import saw_up
from shared.plan import Plan
from shared.shop import Axis
from shared.tree import Piece, Place, Run
from tests.examples import some_of
from tests.shared.small_plan import PLAN, TREE, E
from tests.shared.wrong_plans import sheet
from tests.strategies import LaidOut, laid_out

STRIP, OTHER = TREE.pieces


def with_pieces(*pieces: Piece) -> Run:
    """Return the tree of the small plan with other strips."""
    return replace(TREE, pieces=pieces)


@pytest.mark.parametrize(
    ("tree", "reason"),
    [
        (None, "is missing"),
        (with_pieces(OTHER, STRIP), "gives other parts than lie on the sheet"),
        (with_pieces(STRIP), "gives other parts than lie on the sheet"),
        (replace(TREE, axis=Axis.CROSSCUT), "gives other parts than lie on the sheet"),
        (replace(TREE, trim=0), "gives other parts than lie on the sheet"),
        (with_pieces(STRIP, OTHER, Piece(size=5 * E)), "takes other cuts than are listed"),
        (with_pieces(STRIP, OTHER, Piece(size=-E)), "has a piece or a trim below 0"),
        (
            with_pieces(STRIP, replace(OTHER, run=None, place=Place(part="b", copy=1))),
            "gives other parts than lie on the sheet",
        ),
    ],
)
def test_refuses_a_tree_of_another_layout(tree: Run | None, reason: str) -> None:
    """Each is named by its sheet, with what it gives otherwise."""
    (issue,) = wrong_trees(sheet(0, tree=tree)(PLAN))
    assert (issue.subject, issue.field) == ("1", "tree")
    assert issue.sentence == f"Sheet 1: its tree of cuts {reason}."


def test_accepts_the_tree_the_plan_was_cut_by() -> None:
    """The small plan was written out by hand with its tree; a plan without a shop is not asked."""
    assert list(wrong_trees(PLAN)) == []
    assert list(wrong_trees(replace(sheet(0, tree=None)(PLAN), shop=None))) == []


@settings(max_examples=some_of(60), deadline=None)
@given(made=laid_out())
def test_accepts_whatever_was_sawn_by_its_trees(made: LaidOut) -> None:
    """Sheets sawn up at random have the cuts that their trees take, skims and exact ends too."""
    plan: Plan = saw_up(made.job, made.sheets)
    assert list(wrong_trees(plan)) == []
