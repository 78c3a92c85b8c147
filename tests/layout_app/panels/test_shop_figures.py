"""Every figure of the shop is written so that it is read again, whatever the units."""

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from layout_app.panels.shop_figure import Figure
from layout_app.panels.shop_figures import (
    BASE,
    GUIDE,
    KEEPING,
    LOOSE,
    MORE_PACE,
    PACE,
    PIECES,
    RAIL,
    SAW,
    SQUARE,
    STOP,
    TABLE,
)
from shared.check_shop import shop_faults
from shared.issues import Severity
from shared.lengths import MM, LengthStyle, Unit, step
from shared.practice import REASONS, USUAL_SHOP, running_on
from shared.shop import RunsOn, Shop, Span, TableSaw
from shared.weighing import format_weight, parse_weight
from tests.shop_strategies import styles

COUNTS = (*PACE, *MORE_PACE, LOOSE)
ALL = (*SAW, *BASE, *RAIL, *GUIDE, *STOP, SQUARE, *PIECES, *TABLE, *COUNTS, *KEEPING)
NUMBERS = tuple(one for one in ALL if isinstance(one.get(USUAL_SHOP), int))
WEIGHTS = tuple(one for one in NUMBERS if one.field.endswith("_g"))
SIZES = tuple(one for one in NUMBERS if one not in COUNTS and one not in WEIGHTS)
WILD = st.integers(-(2**50), 2**50)


@given(figure=st.sampled_from(SIZES), steps=st.integers(0, 5_000), style=styles())
def test_a_length_on_the_steps_comes_back(figure: Figure, steps: int, style: LengthStyle) -> None:
    """What the style can write exactly is read as it was, and put where it was taken from.

    No guide or stop reaches to 0: that is not read.
    """
    ticks = max(steps, figure.field in {"guide.most", "stop.most"}) * step(style)
    shop = figure.put(USUAL_SHOP, ticks)
    assert figure.get(shop) == ticks
    assert figure.read(figure.write(ticks, style), style) == ticks


@given(figure=st.sampled_from(WEIGHTS), tenths=st.integers(0, 2_000), style=styles())
def test_a_load_comes_back(figure: Figure, tenths: int, style: LengthStyle) -> None:
    """A load of whole tenths of the unit is written and read in that unit."""
    grams = parse_weight(f"{tenths / 10:.1f}", style.unit)
    assert figure.read(figure.write(grams, style), style) == grams
    if grams:
        assert figure.write(grams, style) == format_weight(grams, style.unit)


@given(figure=st.sampled_from(NUMBERS), value=WILD, style=styles())
def test_any_number_can_be_shown(figure: Figure, value: int, style: LengthStyle) -> None:
    """A file may hold any number: the form shows it and never breaks."""
    assert figure.write(value, style) or figure.empty


def test_each_figure_changes_only_itself() -> None:
    """Putting another value leaves every other figure of a full shop as it was."""
    shop = Shop(
        guide=Span(least=MM, most=2 * MM),
        stop=Span(least=3 * MM, most=8 * MM),
        table=TableSaw(kerf=3 * MM, fence=Span(least=4 * MM, most=5 * MM)),
    )
    for figure in ALL:
        value: object = 7 * MM if figure in NUMBERS else "another name"
        changed = figure.put(shop, value)
        assert figure.get(changed) == value
        others = (one for one in ALL if one.field != figure.field)
        assert all(one.get(changed) == one.get(shop) for one in others), figure.field


def test_the_far_face_of_the_blade_goes_with_the_near_one_until_it_is_measured() -> None:
    """So no base is wrong between one distance and the next; a blade measured too thick stays."""
    figures = {one.field: one for one in BASE}
    near, far = figures["base.left_near"], figures["base.left_far"]
    shop = running_on(USUAL_SHOP, RunsOn.STRAIGHTEDGE, Unit.MM)
    moved = near.put(shop, 36 * MM)
    assert far.get(moved) == 36 * MM + shop.kerf
    assert not [one for one in shop_faults(moved, LengthStyle()) if one.severity is Severity.ERROR]
    thick = far.put(moved, 60 * MM)
    assert far.get(near.put(thick, 40 * MM)) == 60 * MM
    blank = replace(shop, base=None)
    assert far.get(near.put(blank, 40 * MM)) == 0


def test_reasons_are_of_known_figures() -> None:
    """Each reason that a figure names exists, and each has a source."""
    assert {one.reason for one in ALL if one.reason} <= set(REASONS)
    assert all(reason.why and reason.source for reason in REASONS.values())
