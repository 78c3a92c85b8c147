"""The simulated saw accepts good plans and refuses every kind of wrong one."""

import ast
from dataclasses import replace
from pathlib import Path

import pytest

from shared import saw
from shared.geometry import Rect
from shared.plan import CutKind, Goal, Placement, Plan, Proof, Unplaced
from shared.saw import PieceOnHand, lying, verify
from shared.shop import Axis
from shared.stock import Trims
from shared.tree import Piece, Run
from tests.shared.good_plans import ALL, MIXED, PANELS, SHELVES, TICKS_PER_INCH, TICKS_PER_MM
from tests.shared.wrong_plans import (
    EIGHTH,
    WRONG,
    Wrong,
    both,
    cut,
    part,
    place,
    proof,
    proof_of,
    sheet,
)


@pytest.mark.parametrize("plan", ALL.values(), ids=ALL)
def test_accepts_good_plan(plan: Plan) -> None:
    """Each plan written by hand is accepted."""
    assert verify(plan) == ()


@pytest.mark.parametrize("wrong", WRONG, ids=str)
def test_refuses_wrong_plan(wrong: Wrong) -> None:
    """Each kind of wrong plan is refused, with the code that belongs to it."""
    issues = verify(wrong.wreck(wrong.plan))
    assert wrong.code in {issue.code for issue in issues}
    assert all(issue.sentence.endswith(".") for issue in issues)


def test_accepts_plan_without_claims() -> None:
    """A plan that claims nothing about a bound, as a hand layout, is accepted."""
    assert verify(replace(MIXED, proof=Proof())) == ()


def test_accepts_nothing() -> None:
    """The empty plan is accepted."""
    assert verify(Plan()) == ()


def test_accepts_value_below_bound_while_parts_wait() -> None:
    """A plan with parts unplaced may cost less than the bound for all of them."""
    plan = proof_of(1, bound=2)(MIXED)
    assert plan.unplaced
    assert plan.proof.materials[1].value < plan.proof.materials[1].bound
    assert verify(plan) == ()


def test_accepts_one_copy_that_waits() -> None:
    """A copy that lies on no sheet is accounted for by being counted as unplaced."""
    row = Unplaced(part="shelf", copies=1, need="waits")
    assert verify(replace(part(0, copies=13)(SHELVES), unplaced=(row,))) == ()


def test_accepts_gap_to_bound() -> None:
    """A plan may cost more than its bound, if it is not called proven."""
    no_materials = proof(bound=0, proven=False, materials=())
    assert verify(no_materials(SHELVES)) == ()


def test_accepts_price_as_goal() -> None:
    """A proof of the price alone, nothing said of materials, is held against the sheets."""
    claim = Proof(goal=Goal.LEAST_PRICE, value=5200, bound=5200, proven=True)
    assert verify(replace(sheet(0, price=5200)(SHELVES), proof=claim)) == ()


def test_accepts_kerf_of_zero() -> None:
    """A blade that takes nothing makes dust of no width: one rip, one crosscut, no loss."""
    inch = TICKS_PER_INCH
    rip = replace(SHELVES.cuts[0], kerf=0, y=24 * inch, width=0, size=24 * inch, running=24 * inch)
    cross = replace(
        SHELVES.cuts[4],
        number=2,
        kerf=0,
        x=48 * inch,
        length=0,
        width=24 * inch,
        size=48 * inch,
        running=48 * inch,
    )
    last = replace(cross, number=3, piece="1", off="1b", y=24 * inch)
    quarter = replace(SHELVES.placements[0], length=48 * inch, width=24 * inch)
    corners = ((0, 0), (48, 0), (0, 24), (48, 24))
    quarters = tuple(
        replace(quarter, copy=copy, x=x * inch, y=y * inch)
        for copy, (x, y) in enumerate(corners, 1)
    )
    plan = part(0, length=48 * inch, width=24 * inch, copies=4)(SHELVES)
    plan = replace(plan, cuts=(rip, cross, last), placements=quarters, offcuts=())
    assert verify(plan) == ()


def test_accepts_trim_thinner_than_kerf() -> None:
    """A trim of less than a kerf is dust from the factory edge on, and leaves no waste."""
    mm = TICKS_PER_MM
    thin = replace(PANELS.cuts[0], y=0, width=1 * mm, size=1 * mm)
    whole = Placement(part="panel", copy=1, sheet="1", x=0, y=mm, length=2440 * mm, width=1219 * mm)
    plan = sheet(0, trims=Trims(near=mm))(PANELS)
    plan = part(0, length=2440 * mm, width=1219 * mm, copies=1)(plan)
    assert verify(replace(plan, cuts=(thin,), placements=(whole,), offcuts=())) == ()


def test_accepts_sheet_that_is_a_part() -> None:
    """A part as large as its sheet needs no cut at all."""
    inch = TICKS_PER_INCH
    whole = Placement(part="shelf", copy=1, sheet="1", x=0, y=0, length=96 * inch, width=48 * inch)
    plan = part(0, length=96 * inch, width=48 * inch, copies=1)(SHELVES)
    assert verify(replace(plan, cuts=(), placements=(whole,), offcuts=())) == ()


def test_accepts_two_levels_more() -> None:
    """Where a run is one piece that fills it, no cut shows its level."""
    plan = cut(5, level=6)(MIXED)
    assert plan.cuts[4].kind is CutKind.LAST_TRIM
    assert verify(plan) == ()


def test_does_not_ask_the_tree() -> None:
    """The judge does not look at what the plan was made from, be it missing or nonsense."""
    nonsense = Run(axis=Axis.CROSSCUT, pieces=(Piece(size=-1),))
    assert SHELVES.sheets[0].tree is None
    assert verify(sheet(0, tree=nonsense)(SHELVES)) == ()


def test_shares_no_arithmetic_with_what_it_judges() -> None:
    """No module of the saw imports the tree of cuts, the fit of parts, or the solver."""
    sources = list(Path(saw.__file__).parent.glob("*.py"))
    imports = [
        node.module or ""
        for source in sources
        for node in ast.walk(ast.parse(source.read_text(encoding="utf-8")))
        if isinstance(node, ast.ImportFrom)
    ]
    assert len(sources) > 5
    assert "shared.geometry" in imports
    assert not {"shared.tree", "shared.fit", "shared.recognise"} & set(imports)
    assert not [name for name in imports if name.startswith("solver")]


def test_subjects_name_what_is_concerned() -> None:
    """An issue of a cut carries its number, one of a part its id."""
    of_cut = verify(cut(8, running=0)(SHELVES))
    of_part = verify(place(0, turned=True)(SHELVES))
    assert [(one.subject, one.field) for one in of_cut] == [("8", "running")]
    assert {one.subject for one in of_part} == {"shelf"}


def test_sawing_ends_at_first_impossible_cut() -> None:
    """After a cut that cannot be made, what lies there is not compared: it would be noise."""
    spoilt = both(cut(5, length=0), cut(9, piece="nothing"))(SHELVES)
    assert [issue.subject for issue in verify(spoilt)] == ["5"]


def test_lying_before_the_first_cut() -> None:
    """At first all sheets lie there, whole."""
    sheets = [(one.name, one.sheet, one.rect) for one in lying(MIXED, 1)]
    assert sheets == [(one.id, one.id, one.rect) for one in MIXED.sheets]


def test_lying_between_cuts() -> None:
    """Before the first crosscut of the shelves the last rip has eaten what was left of piece 1."""
    pieces = {one.name: one for one in lying(SHELVES, 5)}
    assert set(pieces) == {"1a", "1b", "1c", "1d"}
    strip = Rect(x=0, y=288 * EIGHTH, length=768 * EIGHTH, width=95 * EIGHTH)
    assert pieces["1d"] == PieceOnHand(name="1d", sheet="1", rect=strip)


def test_lying_at_the_end() -> None:
    """One more than the last number gives the parts and the offcuts, waste swept away."""
    rects = {(one.sheet, one.rect) for one in lying(PANELS, len(PANELS.cuts) + 1)}
    promised = (*PANELS.placements, *PANELS.offcuts)
    assert rects == {(one.sheet, one.rect) for one in promised}


def test_lying_refuses_impossible_cut() -> None:
    """What no saw can cut cannot be shown, but the state before it can."""
    spoilt = cut(3, length=0)(SHELVES)
    assert len(lying(spoilt, 3)) == 3
    with pytest.raises(ValueError, match="Cut 3"):
        lying(spoilt, 4)
