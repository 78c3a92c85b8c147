"""What holds freeze, and when they are suspended; one sheet drawn by hand.

In inches, kerf 1/8. The sheet, L 96 × W 48 with a near trim of 1/4, is ripped into a strip
12 wide (y 1/4) and one 10 wide (y 12 3/8):

    12 wide:  A1 40 | A2 40                       10 wide:  B1 30 over a rip | B2 30
    the first block of the second strip is ripped into C1 and C2, each 4 15/16 wide
"""

from dataclasses import replace

import pytest

from shared.geometry import Rect
from shared.holding import frozen, frozen_areas, standing
from shared.job import Job
from shared.layout import Hold, Layout, LayoutSheet, Scope, Waiting
from shared.lengths import INCH
from shared.parts import GrainRule, Part
from shared.plan import Placement
from shared.shop import Axis, CutRule, FirstCut, Shop
from shared.stock import Stock, Trims
from shared.tree import Piece, Place, Run, places

E = INCH // 16
KERF = 2 * E


def row(part: str, length: int, width: int, copies: int) -> Part:
    """Return a row of the take-off; sizes in sixteenths."""
    return Part(
        id=part, name=part, copies=copies, length=length * E, width=width * E, material="birch"
    )


STOCK = Stock(
    id="full",
    name="full sheet",
    material="birch",
    length=96 * INCH,
    width=48 * INCH,
    thickness=12 * E,
    trims=Trims(near=4 * E),
)
JOB = Job(
    parts=(row("A", 640, 192, 2), row("B", 480, 160, 1), row("C", 480, 79, 2)),
    stock=(STOCK,),
    shop=Shop(kerf=KERF),
)


def piece(part: str, copy: int, size: int) -> Piece:
    """Return a piece that is a part; size in sixteenths."""
    return Piece(size=size * E, place=Place(part=part, copy=copy))


SPLIT = Run(axis=Axis.RIP, pieces=(piece("C", 1, 79), piece("C", 2, 79)))
TREE = Run(
    axis=Axis.RIP,
    trim=4 * E,
    pieces=(
        Piece(
            size=192 * E,
            run=Run(axis=Axis.CROSSCUT, pieces=(piece("A", 1, 640), piece("A", 2, 640))),
        ),
        Piece(
            size=160 * E,
            run=Run(
                axis=Axis.CROSSCUT, pieces=(Piece(size=480 * E, run=SPLIT), piece("B", 1, 480))
            ),
        ),
    ),
)


def lying() -> tuple[Placement, ...]:
    """Return where the parts lie."""
    whole = Rect(x=0, y=0, length=STOCK.length, width=STOCK.width)
    return tuple(
        Placement(
            part=place.part,
            copy=place.copy,
            sheet="1",
            x=at.x,
            y=at.y,
            length=at.length,
            width=at.width,
        )
        for place, at in places(TREE, whole, KERF)
    )


SHEET = LayoutSheet(id="1", stock="full", placements=lying(), tree=TREE)
LAYOUT = Layout(sheets=(SHEET,))


def hold(scope: Scope, part: str = "", copy: int = 1) -> Hold:
    """Return a hold on sheet 1."""
    return Hold(scope=scope, sheet="1", part=part, copy=copy)


def stay(*holds: Hold) -> list[tuple[str, int]]:
    """Return which copies the holds freeze."""
    return [one.key for one in frozen(SHEET, STOCK, KERF, holds)]


def test_a_held_part_freezes_what_lies_before_it_in_its_strip() -> None:
    """B lies behind the block of C1 and C2: all three stay, the other strip is free."""
    assert stay(hold(Scope.PART, "B")) == [("C", 1), ("C", 2), ("B", 1)]


def test_a_held_part_freezes_its_whole_block_and_nothing_behind_it() -> None:
    """C2 is ripped from the same block as C1, so C1 stays; B lies behind and is free."""
    assert stay(hold(Scope.PART, "C", 2)) == [("C", 1), ("C", 2)]


def test_a_held_strip_freezes_its_contents() -> None:
    """A strip is named by any part in it."""
    assert stay(hold(Scope.STRIP, "A", 2)) == [("A", 1), ("A", 2)]


def test_a_held_sheet_freezes_everything() -> None:
    """Nothing on it is free."""
    assert len(stay(hold(Scope.SHEET))) == 5


def test_several_holds_freeze_what_any_of_them_does() -> None:
    """A held part in one strip and a strip held whole, on one sheet."""
    both = stay(hold(Scope.PART, "A"), hold(Scope.STRIP, "B"))
    assert both == [("A", 1), ("C", 1), ("C", 2), ("B", 1)]


def test_the_frozen_area_ends_with_the_block() -> None:
    """The second strip begins at 1/4 + 12 + 1/8 = 12 3/8; the block of C is 30 long."""
    (area,) = frozen_areas(SHEET, STOCK, KERF, [hold(Scope.PART, "C")])
    assert area == Rect(x=0, y=198 * E, length=480 * E, width=160 * E)


def test_holds_of_other_sheets_and_absent_parts_freeze_nothing() -> None:
    """They are passed over."""
    assert stay(replace(hold(Scope.SHEET), sheet="2"), hold(Scope.PART, "Z")) == []


def why(job: Job, layout: Layout, one: Hold) -> str:
    """Return why the hold is suspended; "" if it is in force."""
    in_force, suspended = standing(job, replace(layout, holds=(one,)))
    assert len(in_force) + len(suspended) == 1
    return suspended[0][1] if suspended else ""


@pytest.mark.parametrize("scope", Scope)
def test_a_hold_on_what_lies_well_is_in_force(scope: Scope) -> None:
    """Nothing is said against it, remembered or not."""
    assert why(JOB, LAYOUT, hold(scope, "B")) == ""
    assert why(JOB, LAYOUT, replace(hold(scope, "B"), lies=SHEET.placements[4])) == ""


def edited(**changes: object) -> Job:
    """Return the job with another row B."""
    rows = tuple(replace(p, **changes) if p.id == "B" else p for p in JOB.parts)
    return replace(JOB, parts=rows)


SUSPENDING = (
    (replace(JOB, parts=JOB.parts[:1]), "no such part"),
    (edited(copies=0), "its row has an error"),
    (edited(length=500 * E), "its size has changed"),
    (
        replace(edited(material="oak"), stock=(STOCK, replace(STOCK, id="o", material="oak"))),
        "of oak",
    ),
    (edited(grain_rule=GrainRule.ALONG_WIDTH), "against its grain rule"),
    (replace(JOB, rule=CutRule(first=FirstCut.CROSSCUT)), "not cut as the rule says"),
    (replace(JOB, rule=CutRule(levels=2)), ""),
    (replace(JOB, stock=(replace(STOCK, length=0),)), "has an error"),
)


@pytest.mark.parametrize(("job", "reason"), SUSPENDING)
def test_a_changed_job_suspends_a_hold_with_its_reason(job: Job, reason: str) -> None:
    """The sentence says what stands against it; two levels and a trim are as deep as B's strip."""
    said = why(job, LAYOUT, hold(Scope.PART, "B"))
    assert reason in said
    assert bool(said) == bool(reason)


def test_a_strip_deeper_than_the_rule_is_held_as_it_lies() -> None:
    """The rule says what is planned, not what is held; match groups too are cut deeper."""
    deeper = Run(axis=Axis.RIP, pieces=(Piece(size=79 * E, run=_crossed()), piece("C", 2, 79)))
    strip = Run(axis=Axis.CROSSCUT, pieces=(Piece(size=480 * E, run=deeper), piece("B", 1, 480)))
    tree = replace(TREE, pieces=(TREE.pieces[0], Piece(size=160 * E, run=strip)))
    layout = Layout(sheets=(replace(SHEET, tree=tree),))
    flat = replace(JOB, rule=CutRule(levels=2))
    for scope in (Scope.SHEET, Scope.STRIP, Scope.PART):
        assert why(flat, layout, hold(scope, "B" if scope is not Scope.SHEET else "")) == ""


def _crossed() -> Run:
    return Run(axis=Axis.CROSSCUT, pieces=(piece("C", 1, 480),))


def test_a_changed_layout_suspends_a_hold_with_its_reason() -> None:
    """The sheet is gone, cannot be cut, or its part lies elsewhere."""
    one = replace(hold(Scope.PART, "B"), lies=SHEET.placements[4])
    assert "not in use" in why(JOB, Layout(), one)
    uncut = Layout(sheets=(replace(SHEET, tree=None),))
    assert "cannot be cut" in why(JOB, uncut, one)
    gone = Layout(
        sheets=(replace(SHEET, placements=SHEET.placements[:4]),),
        waiting=(Waiting(part="B", copy=1),),
    )
    assert "no longer fits where it was locked" in why(JOB, gone, one)
    moved = replace(one, lies=replace(SHEET.placements[4], x=0))
    assert "no longer fits where it was locked" in why(JOB, LAYOUT, moved)


def test_a_held_sheet_is_known_by_what_lies_on_it() -> None:
    """A number that another sheet has got meanwhile does not hold that one."""
    one = replace(hold(Scope.SHEET), lies=SHEET.placements[0])
    assert why(JOB, LAYOUT, one) == ""
    moved = replace(one, lies=replace(SHEET.placements[0], y=0))
    assert "another sheet" in why(JOB, LAYOUT, moved)


def test_no_more_sheets_are_held_than_are_at_hand() -> None:
    """With one sheet at hand the first hold wins; a sheet that is yours counts before all."""
    second = replace(
        SHEET, id="2", placements=tuple(replace(p, sheet="2") for p in SHEET.placements)
    )
    layout = Layout(
        sheets=(SHEET, second),
        holds=(hold(Scope.SHEET), replace(hold(Scope.SHEET), sheet="2"), hold(Scope.PART, "A")),
    )
    job = replace(JOB, stock=(replace(STOCK, at_hand=1),))
    in_force, suspended = standing(job, layout)
    assert in_force == (layout.holds[0], layout.holds[2])
    assert "The lock of sheet 2 is not in force" in suspended[0][1]
    yours = replace(layout, sheets=(SHEET, replace(second, yours=True)))
    in_force, suspended = standing(job, yours)
    assert in_force == (layout.holds[1],)


def test_a_sheet_that_is_yours_may_be_cut_in_any_direction() -> None:
    """It stays as it lies in any case, so the rule of the job is not asked."""
    crosscut = replace(JOB, rule=CutRule(first=FirstCut.CROSSCUT))
    yours = Layout(sheets=(replace(SHEET, yours=True),))
    assert why(crosscut, yours, hold(Scope.PART, "B")) == ""
