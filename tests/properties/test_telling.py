"""What is told of any trees of cuts in any shop, against what is counted in other ways."""

from collections import Counter
from dataclasses import replace
from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from shared.cuts.sequence import saw_up
from shared.cuts.tally import tally
from shared.drawing import Role, draw_sheet
from shared.lengths import MM, Length, LengthStyle
from shared.making.outcome import PieceFate
from shared.parts import Part
from shared.plan import CutKind, Plan
from shared.saw import lying, verify
from shared.shop import Shop
from shared.telling import Instruction, instructions
from shared.tree import left_over, passes, runs, span
from tests.examples import some_of
from tests.shop_strategies import tooled
from tests.strategies import LaidOut, laid_out

STYLE = LengthStyle()


def codes(told: Instruction) -> set[str]:
    """Return the codes of its cautions."""
    return {caution.code for caution in told.cautions}


def with_density(plan: Plan, density: int) -> Plan:
    """Return the plan with all sheets of one density, in kg/m3."""
    return replace(plan, sheets=tuple(replace(one, density=density) for one in plan.sheets))


def by_trees(plan: Plan) -> Length:
    """Add up the cuts that the trees of a plan's sheets take, no blanks among them."""
    assert plan.shop is not None
    kerf = plan.shop.kerf
    return sum(
        span(rect, run.axis) * passes(run, left_over(run, rect, kerf))
        for sheet in plan.sheets
        for _, run, rect in runs(sheet.tree, sheet.rect, kerf)
    )


@settings(max_examples=some_of(100))
@given(made=laid_out())
def test_lengths_and_skims_agree_with_the_trees(made: LaidOut) -> None:
    """Cut lengths and skims add up to what the tally counts over the trees."""
    plan = saw_up(made.job, made.sheets)
    told = instructions(plan, made.job.shop, STYLE)
    counts = tally(plan, made.job.shop)
    assert [one.number for one in told] == [cut.number for cut in plan.cuts]
    assert sum(one.length for one in told) == counts.counts.sawn == by_trees(plan)
    assert sum("skim" in codes(one) for one in told) == counts.skims


@settings(max_examples=some_of(100))
@given(made=laid_out(), data=st.data())
def test_equal_settings_have_equal_names(made: LaidOut, data: st.DataObject) -> None:
    """Cuts share a setting if and only if tool, device and size are the same; names count on."""
    plan = saw_up(made.job, made.sheets)
    told = instructions(plan, data.draw(tooled(made.job.shop.kerf)), STYLE)
    keys = {(one.setting.tool, one.setting.device, one.setting.size) for one in told}
    names = list(dict.fromkeys(one.setting for one in told))
    assert len(names) == len(keys)
    for letter in "GSF":
        mine = [setting.name for setting in names if setting.name.startswith(letter)]
        assert mine == [f"{letter}{number}" for number in range(1, len(mine) + 1)]


@settings(max_examples=some_of(100))
@given(made=laid_out(), data=st.data())
def test_cautions_are_there_just_where_their_rule_is_hit(
    made: LaidOut, data: st.DataObject
) -> None:
    """Weight, hold, reach and carry are worked out anew from the pieces on the sawhorses."""
    plan = with_density(saw_up(made.job, made.sheets), 680)
    shop = data.draw(tooled(made.job.shop.kerf))
    there: set[tuple[str, str]] = set()
    for one in instructions(plan, shop, STYLE):
        piece = next(p.rect for p in lying(plan, one.number) if p.name == one.piece)
        fresh = (one.sheet, one.piece) not in there
        there = {(one.sheet, one.piece), (one.sheet, one.stroke.cut.off)}
        assert ("heavy" in codes(one)) == (fresh and _too_heavy(plan, one, shop))
        at_table = one.stroke.at_table(shop)
        small = max(piece.length, piece.width) < shop.hold
        assert ("small" in codes(one)) == (small and not at_table)
        reaches = shop.reach is None or one.length <= shop.reach or at_table
        assert bool(codes(one) & {"overhang", "no-rail"}) == (not reaches)
        neither = max(one.stroke.kept, one.stroke.other) < shop.carry
        assert ("packed" in codes(one)) == (neither and not at_table)


def _too_heavy(plan: Plan, one: Instruction, shop: Shop) -> bool:
    piece = next(p.rect for p in lying(plan, one.number) if p.name == one.piece)
    thick = next(sheet.thickness for sheet in plan.sheets if sheet.id == one.sheet)
    metre = 1000 * MM
    kilograms = 680 * Fraction(piece.area * thick, metre**3)
    return shop.lift_g > 0 and round(1000 * kilograms) > shop.lift_g


def shrunk(part: Part, by: Length) -> Part:
    """Return a part of the same blank that is finished by so much, if it is large enough."""
    if min(part.length, part.width) <= 2 * by:
        return part
    return replace(part, length=part.length - by, width=part.width - by, oversize=by)


@settings(max_examples=some_of(100))
@given(made=laid_out(most_sheets=2), by=st.sampled_from((MM, 3 * MM, 6 * MM)), data=st.data())
def test_any_blanks_are_finished_drawn_and_told(
    made: LaidOut, by: Length, data: st.DataObject
) -> None:
    """Parts cut oversize: the saw accepts, every copy is told once, drawings cover their sheets."""
    shop = data.draw(tooled(made.job.shop.kerf))
    parts = tuple(shrunk(part, by) for part in made.job.parts)
    lying = {sheet.id for sheet in made.sheets}  # at random, whatever the limits
    plan = saw_up(replace(made.job, parts=parts, shop=shop), made.sheets, stays=lying)
    assert verify(plan) == ()
    _told_once(plan, shop)
    finishing = [cut.number for cut in plan.cuts if cut.kind is CutKind.FINISH]
    for upto in (*finishing[:3], None):
        for sheet in plan.sheets:
            aside = (Role.SHEET, Role.COMING, Role.BLANK)
            boxes = draw_sheet(plan, sheet.id, STYLE, upto).boxes
            inner = sum(box.rect.area for box in boxes if box.role not in aside)
            assert inner == sheet.rect.area


def _told_once(plan: Plan, shop: Shop) -> None:
    """Count the parts that come off the saw; one that fills its sheet needs no cut."""
    ends: Counter[str] = Counter()
    for one in instructions(plan, shop, STYLE):
        last = one.far if one.far is not None and not one.far.next_cut else None
        for side in filter(None, (one.near, last)):
            if side.end is PieceFate.PART:
                ends[side.part] += 1
    names = {part.id: part for part in plan.parts}
    whole = {sheet.id: sheet.rect for sheet in plan.sheets}
    expected: Counter[str] = Counter()
    for place in plan.placements:
        part = names[place.part]
        if place.rect != whole[place.sheet] or part.is_blank:
            expected[f"{part.name} {place.copy}" if part.copies > 1 else part.name] += 1
    assert ends == expected
