"""The sign of the grain rule: worked by hand from how a part lies and how the grain runs."""

import pytest

from shared.drawing import Role, RuleState, draw_sheet
from shared.drawing.grain_signs import grain_signs, rule_words, state_of
from shared.drawing.records import Box
from shared.geometry import Rect
from shared.lengths import MM, LengthStyle
from shared.parts import GrainRule
from shared.plan import Placement
from shared.stock import SheetGrain
from tests.shared.small_plan import PLAN

L, W, NONE = SheetGrain.ALONG_L, SheetGrain.ALONG_W, SheetGrain.NONE
LENGTH, WIDTH, EITHER = GrainRule.ALONG_LENGTH, GrainRule.ALONG_WIDTH, GrainRule.EITHER
MET, BROKEN, ABSENT = RuleState.MET, RuleState.BROKEN, RuleState.ABSENT


@pytest.mark.parametrize(
    ("rule", "grain", "turned", "state", "words"),
    [
        (LENGTH, L, False, MET, "grain along its length, as its rule asks"),
        (LENGTH, L, True, BROKEN, "grain along its width, but its rule is along length"),
        (LENGTH, W, False, BROKEN, "grain along its width, but its rule is along length"),
        (LENGTH, W, True, MET, "grain along its length, as its rule asks"),
        (WIDTH, L, False, BROKEN, "grain along its length, but its rule is along width"),
        (WIDTH, L, True, MET, "grain along its width, as its rule asks"),
        (WIDTH, W, False, MET, "grain along its width, as its rule asks"),
        (WIDTH, W, True, BROKEN, "grain along its length, but its rule is along width"),
        (EITHER, L, False, ABSENT, "grain along its length; no grain rule"),
        (EITHER, W, False, ABSENT, "grain along its width; no grain rule"),
        (LENGTH, NONE, True, ABSENT, "no grain on this sheet"),
        (EITHER, NONE, False, ABSENT, "no grain on this sheet"),
    ],
)
def test_state_and_words_worked_by_hand(rule, grain, turned, state, words):
    """A part that lies straight has its length along L; turned, along W."""
    assert state_of(rule, grain, turned=turned) is state
    assert rule_words(rule, grain, turned=turned) == words


def test_only_parts_have_a_sign_and_it_runs_with_the_grain():
    """A fall has none; on a sheet with its grain along W the sign stands upright."""
    rect = Rect(x=0, y=0, length=200 * MM, width=400 * MM)
    part = Box(role=Role.PART, rect=rect, key="part:a:1", part="a", copy=1)
    fall = Box(role=Role.KEEPER, rect=rect, key="piece:1a")
    lies = Placement(
        part="a", copy=1, sheet="1", x=0, y=0, length=200 * MM, width=400 * MM, turned=True
    )
    (sign,) = grain_signs((part, fall), (lies,), {"a": LENGTH}, W)
    assert (sign.key, sign.rect, sign.state, sign.along_x) == ("part:a:1", rect, MET, False)


def test_every_part_of_a_plan_has_its_sign():
    """One for each box of a part, and no sign is broken in a plan that the saw accepts."""
    drawing = draw_sheet(PLAN, "1", LengthStyle())
    parts = [box.key for box in drawing.boxes if box.role is Role.PART]
    assert [sign.key for sign in drawing.signs] == parts
    assert BROKEN not in {sign.state for sign in drawing.signs}
