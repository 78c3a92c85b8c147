"""Properties of holds: what they freeze, read from the tree in another way."""

from collections.abc import Iterator

from hypothesis import given, settings
from hypothesis import strategies as st

from shared.holding import frozen, standing
from shared.layout import Hold, Layout, LayoutSheet, Scope
from shared.parts import Copy
from shared.tree import Run
from tests.examples import some_of
from tests.strategies import LaidOut, holds, laid_out


def paths(run: Run | None, so_far: tuple[int, ...] = ()) -> Iterator[tuple[Copy, tuple[int, ...]]]:
    """Yield every part of a tree with the numbers of the pieces it is sawn from."""
    for number, piece in enumerate(run.pieces if run else ()):
        path = (*so_far, number)
        if piece.place is not None:
            yield piece.place.key, path
        yield from paths(piece.run, path)


def stays(sheet: LayoutSheet, hold: Hold) -> set[Copy]:
    """Return what a hold freezes, by comparing paths in the tree instead of rectangles."""
    found = dict(paths(sheet.tree))
    if hold.scope is Scope.SHEET:
        return set(found)
    own = found[hold.key]
    strip = {copy: path for copy, path in found.items() if path[0] == own[0]}
    if hold.scope is Scope.STRIP or len(own) == 1:
        return set(strip)
    return {copy for copy, path in strip.items() if path[1] <= own[1]}


@st.composite
def held(draw: st.DrawFn) -> tuple[LaidOut, tuple[Hold, ...]]:
    """Sheets sawn up at random, and holds on them."""
    made = draw(laid_out())
    return made, draw(holds(made.sheets))


@settings(max_examples=some_of(100))
@given(held())
def test_frozen_is_what_the_tree_says(drawn: tuple[LaidOut, tuple[Hold, ...]]) -> None:
    """What stays put of a sheet is what lies before the held part in its strip, and no more."""
    made, on = drawn
    for sheet in made.sheets:
        mine = [hold for hold in on if hold.sheet == sheet.id]
        expected = set().union(*(stays(sheet, hold) for hold in mine))
        stock = made.job.stock_row(sheet.stock)
        found = frozen(sheet, stock, made.job.shop.kerf, on)
        assert {one.key for one in found} == expected


@settings(max_examples=some_of(100))
@given(held())
def test_every_hold_is_either_in_force_or_suspended(
    drawn: tuple[LaidOut, tuple[Hold, ...]],
) -> None:
    """No hold is lost, none counts twice, and each that is suspended has a reason."""
    made, on = drawn
    layout = Layout(sheets=made.sheets, holds=on)
    in_force, suspended = standing(made.job, layout)
    assert sorted(map(repr, on)) == sorted(map(repr, [*in_force, *(hold for hold, _ in suspended)]))
    assert all(sentence.endswith(".") for _, sentence in suspended)
