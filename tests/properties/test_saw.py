"""Whatever is sawn from a tree is accepted, and whatever is changed in a plan is refused."""

from dataclasses import fields, replace
from enum import StrEnum
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from shared.cuts.sequence import saw_up
from shared.plan import Cut, CutKind, Offcut, Placement, Plan
from shared.saw import lying, verify
from tests.examples import some_of
from tests.shared.good_plans import ALL
from tests.strategies import LaidOut, laid_out

TABLES = ("cuts", "placements", "offcuts")
NAMES = ("", "1", "2", "1a", "1b", "1a1", "1a9", "2c", "shelf", "p", "another")


@given(laid=laid_out())
@settings(max_examples=some_of(100), deadline=None)
def test_sawn_tree_is_accepted(laid: LaidOut) -> None:
    """Any tree, sawn up into numbered cuts, passes the saw."""
    assert verify(saw_up(laid.job, laid.sheets)) == ()


@given(laid=laid_out())
@settings(max_examples=some_of(40), deadline=None)
def test_pieces_at_the_end_are_what_is_promised(laid: LaidOut) -> None:
    """What lies there after the last cut are the placements and offcuts, no more and no less."""
    plan = saw_up(laid.job, laid.sheets)
    rects = sorted((p.sheet, p.rect.x, p.rect.y) for p in lying(plan, len(plan.cuts) + 1))
    promised = (*plan.placements, *plan.offcuts)
    assert rects == sorted((one.sheet, one.x, one.y) for one in promised)


@given(data=st.data())
@settings(max_examples=some_of(400), deadline=None)
def test_changed_field_is_refused(data: st.DataObject) -> None:
    """A good plan with one field of one cut, placement or offcut changed is refused.

    Neutral by nature, and left out (`is_neutral`): whether an offcut is worth keeping; a fresh
    name of a piece that is a part at once; the key and the tool of a set-up used only once;
    two levels more of a last trim, as in `test_accepts_two_levels_more`; and the key by which a
    cut is found again in another plan, which says nothing about the sawing.
    """
    plan = data.draw(st.sampled_from(list(ALL.values())))
    table = data.draw(st.sampled_from(TABLES))
    row = data.draw(st.integers(0, len(getattr(plan, table)) - 1))
    before = getattr(plan, table)[row]
    name = data.draw(st.sampled_from([one.name for one in fields(before)]))
    after = replace(before, **{name: data.draw(others(getattr(before, name)))})
    rows = list(getattr(plan, table))
    rows[row] = after
    if after != before and not is_neutral(plan, before, after):
        assert verify(replace(plan, **{table: tuple(rows)}))


def others(value: Any) -> st.SearchStrategy[Any]:
    """Draw another value of the same kind."""
    if isinstance(value, bool):
        return st.just(not value)
    if isinstance(value, int):
        near = st.integers(-2, 2).map(lambda step: value + step)
        return st.one_of(near, st.sampled_from((0, -value)), st.integers(-(2**40), 2**40))
    if isinstance(value, StrEnum):
        return st.sampled_from(type(value))
    return st.sampled_from(NAMES)


def is_neutral(plan: Plan, before: Cut | Placement | Offcut, after: Any) -> bool:
    """Say whether the plan with this change is another good plan."""
    if isinstance(before, Offcut):
        return replace(before, keep=not before.keep) == after
    return isinstance(before, Cut) and any(
        neutral(plan, before, after) for neutral in (_named, _set_up, _deeper, _found_by)
    )


def _found_by(plan: Plan, before: Cut, after: Cut) -> bool:
    del plan
    return before == replace(after, key=before.key)


def _named(plan: Plan, before: Cut, after: Cut) -> bool:
    named = {cut.piece for cut in plan.cuts} | {one.piece for one in plan.offcuts}
    known = named | {cut.off for cut in plan.cuts}
    is_part = before.kind is not CutKind.TRIM and before.off not in named
    fresh = after.off.startswith(before.piece) and after.off not in known
    return after == replace(before, off=after.off) and is_part and fresh


def _set_up(plan: Plan, before: Cut, after: Cut) -> bool:
    once = sum(cut.setup == before.setup for cut in plan.cuts) == 1
    fresh = all(cut.setup != after.setup for cut in plan.cuts if cut is not before)
    same = after == replace(before, setup=after.setup, tool=after.tool)
    return same and once and fresh


def _deeper(plan: Plan, before: Cut, after: Cut) -> bool:
    more = after.level - before.level
    deeper = more > 0 and more % 2 == 0
    return (
        before.kind is CutKind.LAST_TRIM and after == replace(before, level=after.level) and deeper
    )
