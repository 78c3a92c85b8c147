"""A plan that says for which shop it was made is held against it, row by row and cut by cut.

The small plan is written out by hand; its shop has a kerf of 1/8 in and keeps offcuts of
60/8 × 20/8 in and more.
"""

from dataclasses import replace

import pytest

from shared.plan import (
    BlockTurn,
    Finished,
    Goal,
    MatchedBlock,
    MatchedCopy,
    MatchedSet,
    MaterialProof,
    Plan,
    Proof,
    Unplaced,
)
from shared.saw import verify
from shared.shop import ABSENT, CutRule, FirstCut, Rail, RunsOn, SawBase, Shop, Span, TableSaw
from shared.stock import NoGo
from tests.shared.small_plan import PLAN, E
from tests.shared.wrong_plans import Wreck, both, cut, offcut, part, place, sheet

KEYS = ("1t/a:1", "1/a:1", "1/b:1", "2/a:1", "2/a:2", "2/b:1")
"""Worked out by hand: the level, and the first copy in what is sawn off."""
KEYED = replace(
    PLAN, cuts=tuple(replace(one, key=key) for one, key in zip(PLAN.cuts, KEYS, strict=True))
)
PLY = PLAN.sheets[0].material
SHOP = PLAN.shop or Shop()
BASE = SawBase(left_near=12 * E, left_far=13 * E, right_near=0, right_far=1 * E, length=88 * E)
"""Its right side is not measured."""
CLAIMED = replace(
    KEYED,
    proof=Proof(
        goal=Goal.LEAST_PRICE,
        value=5200,
        bound=5200,
        proven=True,
        materials=(
            MaterialProof(
                material=PLY, goal=Goal.FEWEST_SHEETS, value=1, bound=1, proven=True, least_cuts=5
            ),
        ),
    ),
)


def shop(**changes: object) -> Wreck:
    """Return what changes the shop of a plan."""
    return lambda plan: replace(plan, shop=replace(plan.shop or SHOP, **changes))


def rule(**changes: object) -> Wreck:
    """Return what changes the rule of a plan."""
    return lambda plan: replace(plan, rule=replace(plan.rule or CutRule(), **changes))


def plan_with(**changes: object) -> Wreck:
    """Return what changes a plan itself."""
    return lambda plan: replace(plan, **changes)


def of_ply(**changes: object) -> Wreck:
    """Return what changes the proof of the only material."""
    return lambda plan: replace(
        plan,
        proof=replace(plan.proof, materials=(replace(plan.proof.materials[0], **changes),)),
    )


SAW = TableSaw(kerf=E, fence=Span(most=700 * E))
WRONG: list[tuple[str, Wreck, str]] = [
    ("no id", part(0, id=""), "part-id-twice"),
    ("no copies", part(0, copies=0), "part-none"),
    ("loses what it is not larger by", part(0, sawn_length=63 * E), "part-blank"),
    ("waits for nothing", part(0, waits=True), "part-blank"),
    ("larger by less than nothing", part(0, oversize=-1), "part-blank"),
    ("negative thickness", sheet(0, thickness=-1), "sheet-negative"),
    ("negative density", sheet(0, density=-1), "sheet-negative"),
    ("another price than it counts", sheet(0, price=5100), "sheet-cost"),
    (
        "bad place off the sheet",
        sheet(0, no_go=(NoGo(x=-1, y=0, length=9, width=9),)),
        "sheet-no-go",
    ),
    ("sawn off a whole sheet", sheet(0, named=1), "sheet-named"),
    ("deeper than it is", sheet(0, off_rule=True), "sheet-off-rule"),
    ("rule of the other direction", rule(first=FirstCut.CROSSCUT), "sheet-off-rule"),
    ("rule of one level", rule(levels=1), "shop-levels"),
    (
        "finished nobody knows",
        plan_with(finished=(Finished(part="z", copy=1),)),
        "finished-unknown",
    ),
    ("first 0", plan_with(first=0), "first-number"),
    ("a piece before the first cut", sheet(0, piece=True), "first-number"),
    ("no need", plan_with(unplaced=(Unplaced(part="a", copies=1, need=" "),)), "unplaced-need"),
    ("unknown saw", cut(2, tool="other"), "cut-tool"),
    ("kerf of no saw", shop(kerf=2 * E), "cut-tool"),
    ("table saw in mid-sheet", both(shop(table=SAW), cut(2, tool="table saw")), "cut-tool"),
    ("next name left out", cut(3, off="1c"), "cut-off-name"),
    ("key of another copy", cut(4, key="2/a:2"), "cut-key"),
    ("no key", cut(4, key=""), "cut-key"),
    ("kept though small", offcut(0, keep=True), "offcut-keep"),
    ("not kept though large", offcut(1, keep=False), "offcut-keep"),
    ("no rail", shop(rails=(Rail(length=0),)), "shop-figure"),
    ("none to join", shop(rails=(Rail(length=9, joined=2, count=1),)), "shop-figure"),
    ("no base", shop(runs_on=RunsOn.STRAIGHTEDGE), "shop-figure"),
    ("base not measured", shop(runs_on=RunsOn.STRAIGHTEDGE, base=BASE), "shop-figure"),
    ("stop set to nothing", shop(stop=Span(least=2, most=1)), "shop-figure"),
    ("width below 0", shop(rail_width=-1), "shop-figure"),
    ("no order about", shop(loose=0), "shop-figure"),
    ("no fence", shop(table=replace(SAW, fence=ABSENT)), "shop-figure"),
    ("fence set to nothing", shop(table=replace(SAW, fence=Span(least=2, most=1))), "shop-figure"),
    ("beyond the rails", shop(rails=(Rail(length=100 * E),), overhang=0), "cut-beyond-reach"),
    ("nothing carries the rail", shop(carry=161 * E), "cut-carries-no-rail"),
    ("nothing to hold", shop(hold=161 * E), "cut-nothing-to-hold"),
    ("copies swapped", both(place(0, copy=2), place(1, copy=1)), "cut-key"),
    (
        "value not what it counts",
        plan_with(proof=replace(CLAIMED.proof, value=5201)),
        "proof-value",
    ),
    ("bound below 0", of_ply(bound=-1), "proof-bound"),
    ("proof of no material", of_ply(material="oak"), "proof-materials"),
    (
        "proof without materials",
        plan_with(proof=replace(CLAIMED.proof, materials=())),
        "proof-materials",
    ),
    ("least sawing unproven", of_ply(proven=False, bound=0, least_sawing=True), "proof-sawing"),
    ("best offcut alone", of_ply(best_remainder=True), "proof-sawing"),
    ("prices made of costs", of_ply(goal=Goal.LEAST_COST), "proof-goal"),
    ("prices made of areas", sheet(0, by_area=True, price=0), "proof-goal"),
]


@pytest.mark.parametrize(
    ("wreck", "code"), [row[1:] for row in WRONG], ids=[row[0] for row in WRONG]
)
def test_refuses_what_the_file_can_show(wreck: Wreck, code: str) -> None:
    """Each kind of error is refused with the code that belongs to it."""
    issues = verify(wreck(CLAIMED))
    assert code in {str(issue.code) for issue in issues}
    assert all(issue.sentence.endswith(".") for issue in issues)


@pytest.mark.parametrize("plan", [PLAN, KEYED, CLAIMED])
def test_accepts_the_plan_itself(plan: Plan) -> None:
    """With and without keys and claims the plan is accepted."""
    assert verify(plan) == ()


def test_no_limit_is_held_against_a_sheet_that_stays() -> None:
    """What is begun stays as it lies, however short the rails are by now."""
    short = shop(rails=(Rail(length=100 * E),), overhang=0)(KEYED)
    assert verify(short)
    assert verify(sheet(0, stays=True)(short)) == ()


def test_two_sheets_of_one_row_are_alike() -> None:
    """A second sheet, whole and a part itself, may differ from the first in nothing."""
    whole = replace(PLAN.parts[0], id="w", length=160 * E, width=80 * E, copies=1)
    lies = replace(PLAN.placements[0], part="w", sheet="2", x=0, y=0, length=160 * E, width=80 * E)
    second = replace(PLAN.sheets[0], id="2", trims=replace(PLAN.sheets[0].trims, near=0))
    first = replace(PLAN, parts=(*PLAN.parts, whole), placements=(*PLAN.placements, lies))
    two = replace(first, sheets=(*PLAN.sheets, second))
    assert {one.code for one in verify(two)} == {"sheet-unlike"}
    assert verify(replace(two, sheets=(*PLAN.sheets, replace(second, stock="other")))) == ()


BLOCK = MatchedBlock(
    sheet="1",
    way=BlockTurn.STRAIGHT,
    copies=(MatchedCopy(part="a", copy=1), MatchedCopy(part="a", copy=2)),
)
MATCHED = replace(
    both(part(0, group="Rails"))(KEYED),
    matches=(MatchedSet(name="Rails", columns=2, blocks=(BLOCK,)),),
)
"""The two rails lie beside each other, one kerf between: their figure runs on."""


def sets(**changes: object) -> Wreck:
    """Return what changes the only matched set."""
    return lambda plan: replace(plan, matches=(replace(plan.matches[0], **changes),))


def block(**changes: object) -> Wreck:
    """Return what changes the only block of the only set."""
    return sets(blocks=(replace(BLOCK, **changes),))


ALONE = tuple(replace(BLOCK, copies=(one,)) for one in BLOCK.copies)
UNMATCHED: list[tuple[str, Wreck, str]] = [
    ("members swapped", both(place(0, copy=2), place(1, copy=1)), "match-broken"),
    ("swapped and told so", block(copies=BLOCK.copies[::-1]), "match-broken"),
    ("above each other", sets(columns=1), "match-broken"),
    ("no columns", sets(columns=0), "match-columns"),
    ("turned", block(way=BlockTurn.LEFT), "match-broken"),
    ("on another sheet", block(sheet="2"), "match-broken"),
    ("told to break", sets(blocks=ALONE), "match-broken"),
    ("a member missing", block(copies=BLOCK.copies[:1]), "match-broken"),
    ("another name", sets(name="Legs"), "match-unknown"),
    ("another group", part(0, group="Legs"), "match-missing"),
    ("no group", part(0, group=""), "match-unknown"),
    ("told twice", lambda plan: replace(plan, matches=plan.matches * 2), "match-unknown"),
    ("not told", plan_with(matches=()), "match-missing"),
]


@pytest.mark.parametrize(
    ("wreck", "code"), [row[1:] for row in UNMATCHED], ids=[row[0] for row in UNMATCHED]
)
def test_refuses_a_matched_set_that_lies_otherwise(wreck: Wreck, code: str) -> None:
    """A figure that breaks where it is said to run on, or runs on where not, is refused."""
    assert verify(MATCHED) == ()
    assert code in {str(issue.code) for issue in verify(wreck(MATCHED))}


def test_a_figure_that_breaks_as_it_is_told_is_accepted() -> None:
    """By hand members may be laid in another order; the plan then says where it breaks."""
    swapped = both(place(0, copy=2), place(1, copy=1), cut(4, key="2/a:2"), cut(5, key="2/a:1"))
    assert verify(both(swapped, sets(blocks=ALONE))(MATCHED)) == ()
