"""The sign of what is held: where it stands, and that no words cover it or each other."""

from itertools import combinations

import pytest

from layout_app.document import edit_locks
from shared.layout import Scope

SCALES = (0.1, 0.2, 0.3, 0.45, 0.7, 1.2)


def held(maker, *keys, scope=Scope.PART):
    """Hold copies and return the item of sheet 1."""
    edit_locks.hold(maker.doc, scope, keys)
    return maker.view.bench.sheet_item("1")


@pytest.mark.parametrize("scale", SCALES)
@pytest.mark.parametrize("scope", Scope)
def test_no_words_cover_a_rule_or_each_other(maker, scale, scope):
    """At any zoom names keep clear of the double rule, of the word, and of one another."""
    item = held(maker, ("side", 1), ("shelf", 1), scope=scope)
    writing = item.writing(scale)
    blocks = [label.fitted.block for label in writing.labels]
    obstacles = [space for sign in writing.signs for space in sign.obstacles]
    assert not any(block.meets(space) for block in blocks for space in obstacles)
    words = [sign.word for sign in writing.signs if sign.word is not None]
    assert not any(one.meets(other) for one, other in combinations([*blocks, *words], 2))


def test_the_rules_run_inside_what_is_frozen(maker):
    """Side 1 is 40 × 12 in at the reference corner: both rules stay inside, a word between."""
    item = held(maker, ("side", 1))
    scale = 0.5
    (sign,) = item.writing(scale).signs
    assert (sign.area.x, sign.area.y) == (0, 0)
    assert sign.area.length == pytest.approx(40 * 25.4 * scale)
    assert sign.area.width == pytest.approx(12 * 25.4 * scale)
    outer, inner = sign.rules
    assert outer.contains(inner)
    assert sign.word is not None


def test_a_narrow_area_has_its_rules_at_the_ends(maker):
    """Where the strip is 24 px high, four short rules stand clear of the names."""
    item = held(maker, ("side", 1), scope=Scope.STRIP)
    (sign,) = item.writing(24 / (12 * 25.4)).signs
    assert sign.rules == []
    assert len(sign.ends) == 4
    assert sign.word is None


def test_a_sheet_held_whole_has_one_sign(maker):
    """Holds inside it show nothing of their own; released, nothing is left of the sign."""
    held(maker, ("side", 1))
    item = held(maker, ("side", 1), scope=Scope.SHEET)
    assert [area.scope for area in item.held] == [Scope.SHEET]
    edit_locks.release(maker.doc, None, [("side", 1)])
    assert maker.view.bench.sheet_item("1").held == ()


def test_the_tip_says_that_a_part_is_held(maker):
    """Name, size, and held; a free part has no such word."""
    held(maker, ("side", 1))
    bench = maker.view.bench
    for place, words in ((("1", 10, 6), True), (("1", 60, 6), False)):
        point = maker.view.mapToScene(maker.at(*place))
        assert bench.tip_at(point).endswith("locked") is words
