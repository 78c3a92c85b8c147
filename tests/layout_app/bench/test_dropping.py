"""What a drop leaves alone: remembered words and drawings are what would be made afresh."""

from copy import deepcopy
from dataclasses import replace
from random import Random

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from PySide6.QtGui import QPainterPath

from layout_app.bench.scene import BenchScene
from layout_app.bench.shapes import Shapes
from layout_app.document.document import Document
from layout_app.document.edit import Consequence
from layout_app.look.theme import Theme
from layout_app.model.sawing import Sawn
from layout_app.panels.cards import cards_of
from layout_app.panels.ticks import KeptCards, all_cards
from shared.cuts.tally import tally
from shared.drawing.grain import figure, grain_in
from shared.lengths import LengthStyle, Unit
from shared.plan import Plan
from shared.telling import instructions
from tests.layout_app.document.test_moving_cuts import sawn, walk
from tests.layout_app.small_job import document
from tests.shop_strategies import tooled
from tests.strategies import LaidOut, laid_out

pytestmark = pytest.mark.usefixtures("qapp")

SLOW = settings(max_examples=10, suppress_health_check=[HealthCheck.too_slow])
STYLES = (LengthStyle(), LengthStyle(unit=Unit.MM))


def path_of(path: QPainterPath) -> list[tuple[float, float]]:
    """Return the points of a path."""
    found = map(path.elementAt, range(path.elementCount()))
    return [(one.x, one.y) for one in found]


@SLOW
@given(made=laid_out(), seed=st.integers(0, 2**32), data=st.data())
def test_what_is_told_again_is_what_would_be_told_afresh(
    made: LaidOut, seed: int, data: st.DataObject
) -> None:
    """After any moves, in any shop and units, what is told of a copy is told of the plan."""
    shop = data.draw(tooled(made.job.shop.kerf))
    shown, rng = sawn(made), Random(seed)
    assume(shown.plan is not None and shown.plan.cuts)
    job = replace(made.job, shop=shop)
    for before, after, _ in walk(shown, rng, 4):
        style = rng.choice(STYLES)
        for plan in (plan_of(before), plan_of(after)):
            afresh = deepcopy(plan)
            assert instructions(plan, shop, style) == instructions(afresh, shop, style)
            cards, anew = cards_of((plan,), job), cards_of((afresh,), job)
            assert [(one.told, one.label, one.tint) for one in cards] == [
                (one.told, one.label, one.tint) for one in anew
            ]


@SLOW
@given(made=laid_out(), seed=st.integers(0, 2**32))
def test_what_is_shown_after_moves_is_what_a_new_window_shows(made: LaidOut, seed: int) -> None:
    """Drawings, grain and totals after any moves are as if made for the first time."""
    shown = sawn(made)
    assume(shown.plan is not None and shown.plan.cuts)
    doc = Document()
    doc.edit(shown, Consequence.STOP)
    scene, kept = BenchScene(doc, Theme.light()), KeptCards(doc)
    rng = Random(seed)
    for before, after, _ in walk(shown, rng, 2):
        doc.selection.select_cut(rng.choice([cut.number for cut in plan_of(after).cuts]))
        for one in (after, before, after):  # as if undone, and done again
            doc.edit(one, Consequence.STOP)
            same_as_new(scene, doc)
            now, anew = kept.now(), all_cards(doc)
            assert [(one.told, one.tint) for one in now] == [(one.told, one.tint) for one in anew]


def plan_of(shown: Sawn) -> Plan:
    """Return the plan."""
    assert shown.plan is not None
    return shown.plan


def same_as_new(scene: BenchScene, doc: Document) -> None:
    """Compare the bench with one that has never shown anything else."""
    fresh_doc = Document()
    fresh_doc.tints = doc.tints  # tints stay from plan to plan, so a new window would differ
    fresh_doc.edit(doc.sawn, Consequence.STOP)
    fresh_doc.selection.select_cut(doc.selection.cut)
    fresh = BenchScene(fresh_doc, Theme.light())
    for item, new in zip(scene.sheet_items, fresh.sheet_items, strict=True):
        grain_in.cache_clear()
        figure.cache_clear()
        assert item.drawing == new.drawing
        bare = Shapes(new.drawing, Theme.light())
        for grain in ("fine_grain", "heavy_grain"):
            assert path_of(getattr(item.shapes, grain)) == path_of(getattr(bare, grain))
    assert doc.plan is not None
    assert doc.takes == tally(doc.plan, doc.job.shop)


def test_who_hears_of_the_selected_cut_s_new_number_finds_it_in_the_plan() -> None:
    """The plan is told before the selection that follows a cut to its new number."""
    doc = document()
    heard: list[str] = []
    doc.selection.select_cut(2)
    doc.layout_changed.connect(lambda: heard.append("layout"))
    doc.selection.changed.connect(lambda: heard.append(f"cut {doc.selection.cut}"))
    key = plan_of(doc.sawn).cut(2).key
    after, number = next(
        (after, cut.number)
        for _, after, _ in walk(doc.sawn, Random(3), 40)
        for cut in plan_of(after).cuts
        if cut.key == key and cut.number != 2
    )
    doc.edit(after, Consequence.STOP)
    assert heard == ["layout", f"cut {number}"]
