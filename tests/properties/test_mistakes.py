"""Random ticks and random mistakes: nothing is lost, and what is made stays as it was."""

import gc
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PySide6.QtWidgets import QApplication

from layout_app.document.document import Document
from layout_app.document.replan_rest import plan_the_rest
from layout_app.document.ticks import missing_before, tick
from layout_app.model.carry_over import every_copy
from layout_app.model.locks import settled
from layout_app.model.pieces_on_hand import ThingKind, things, touched
from layout_app.model.project import Project
from layout_app.model.replan import Corrections, Wrong, fault_of
from shared.job import Job
from shared.lengths import MM
from shared.parts import GrainRule, Part
from shared.plan import Cut, CutKind, Plan
from shared.saw import verify
from shared.shop import CutRule, FirstCut, Shop
from shared.stock import NoGo, SheetGrain, Stock, Trims
from solver.planning.plans import compose
from solver.planning.proof_status import proof_status_of
from solver.prepare.instances import prepare
from solver.search.constructive import first
from solver.solutions.incumbent import Incumbent
from tests.examples import some_of
from tests.layout_app.adopting import adopt

SHEET = (1200 * MM, 600 * MM)


@pytest.fixture(scope="module", autouse=True)
def _app(qapp: QApplication) -> Iterator[None]:
    """Have the timers of a document, and collect documents while there is a program."""
    del qapp
    yield
    gc.collect()


def some_part(number: int) -> st.SearchStrategy[Part]:
    """Parts that fit the sheet, some of them fit parts."""
    sizes = st.integers(60, 500).map(lambda mm: mm * MM)
    return st.builds(
        Part,
        id=st.just(f"p{number}"),
        name=st.just(f"Part {number}"),
        copies=st.integers(1, 3),
        length=sizes,
        width=sizes,
        material=st.just("ply"),
        grain_rule=st.sampled_from(GrainRule),
        fit_allowance=st.sampled_from([0, 0, 10 * MM]),
    )


@st.composite
def small_jobs(draw: st.DrawFn) -> Job:
    """One or two kinds of parts, sheets with trims and perhaps a bad corner."""
    edges = st.sampled_from([0, 8 * MM])
    trims = draw(st.builds(Trims, near=edges, far=edges, start=edges, end=edges))
    corner = NoGo(x=0, y=0, length=50 * MM, width=40 * MM)
    sheet = Stock(
        id="full",
        name="sheet",
        material="ply",
        length=SHEET[0],
        width=SHEET[1],
        thickness=18 * MM,
        grain=draw(st.sampled_from([SheetGrain.ALONG_L, SheetGrain.NONE])),
        trims=trims,
        price=draw(st.sampled_from([0, 4000])),
        no_go=draw(st.sampled_from([(), (replace(corner, show_only=True),)])),
    )
    rule = CutRule(levels=3, first=draw(st.sampled_from(FirstCut)))
    parts = tuple(draw(some_part(number)) for number in range(draw(st.integers(1, 3))))
    shop = Shop(kerf=draw(st.sampled_from([0, 2 * MM])), keep_length=80 * MM, keep_width=60 * MM)
    return Job(parts=parts, stock=(sheet,), shop=shop, rule=rule)


def plan_around(doc: Document) -> None:
    """Let the planner place what lies nowhere, as the window would."""
    prepared = prepare(doc.job, settled(doc.project))
    incumbents = [Incumbent(instance, first(instance)) for instance in prepared.instances]
    plan = compose(prepared, [proof_status_of(incumbent) for incumbent in incumbents])
    assert verify(plan) == ()
    adopt(doc, plan)


def tick_some(doc: Document, data: st.DataObject) -> None:
    """Tick a few cuts, each with all that has to come before it."""
    assert doc.plan is not None
    numbers = [cut.number for cut in doc.plan.cuts]
    for number in data.draw(
        st.lists(st.sampled_from(numbers), max_size=3) if numbers else st.just([])
    ):
        tick(doc, [*missing_before(doc, number), number])


def some_mistakes(doc: Document, data: st.DataObject) -> Corrections:
    """Say that a thing is ruined, or smaller than it should be."""
    names = [thing.name for thing in things(doc.project, doc.plan)]
    wrong: dict[str, Wrong] = {}
    for thing in things(doc.project, doc.plan):
        if thing.name in data.draw(st.sets(st.sampled_from(names), max_size=1)):
            length, width = thing.size
            less = (max(1, length - 5 * MM), width)
            assert fault_of(doc.job, thing, less) == ""
            wrong[thing.name] = Wrong(size=data.draw(st.sampled_from([None, less])))
    return wrong


def nothing_lost(doc: Document) -> None:
    """Each copy lies on a sheet, is finished, or waits; and only one of these."""
    lying = [p.key for sheet in doc.layout.sheets for p in sheet.placements]
    done = [one.key for one in doc.layout.finished]
    waits = [one.key for one in doc.layout.waiting]
    counts = Counter([*lying, *done, *waits])
    assert counts == Counter(every_copy(doc.job))


def area_of_what_lies_there(doc: Document, plan: Plan) -> int:
    """Return the area of all things of the sheets that are touched, and of what became dust."""
    begun = touched(doc.project)
    lies = sum(t.rect.area for t in things(doc.project, plan) if not t.row and not t.past)
    dust = sum(cut.rect.area for cut in doc.progress.ticked)
    swept = sum(_swept(cut) for cut in doc.progress.ticked)
    assert begun == {cut.sheet for cut in doc.progress.ticked}
    return lies + dust + swept


def _swept(cut: Cut) -> int:
    """Return the area a trim leaves on its waste side: its size less the dust, along the cut."""
    if cut.kind is not CutKind.TRIM:
        return 0
    return (cut.size - min(cut.length, cut.width)) * max(cut.length, cut.width)


def cuts_made(doc: Document) -> list[Cut]:
    """Return all cuts that were ever ticked, as they are known now."""
    past = [cut for plan in doc.progress.past for cut in plan.cuts]
    return [*past, *doc.progress.ticked]


@settings(max_examples=some_of(150))
@given(small_jobs(), st.data())
def test_ticks_and_mistakes_lose_nothing(job: Job, data: st.DataObject) -> None:
    """After every mistake the saw accepts the new plan, and what was made is as it was."""
    doc = Document(Project(job=job))
    plan_around(doc)
    for _ in range(2):
        if doc.plan is None:
            return
        tick_some(doc, data)
        plan_around(doc)
        nothing_lost(doc)
        before, plan = cuts_made(doc), doc.plan
        assert {(c.number, c.sheet, c.rect) for c in doc.progress.ticked} <= {
            (c.number, c.sheet, c.rect) for c in plan.cuts
        }
        sheets = [one for one in plan.sheets if one.id in touched(doc.project)]
        assert area_of_what_lies_there(doc, plan) == sum(one.rect.area for one in sheets)
        there = things(doc.project, plan)
        wrong = some_mistakes(doc, data)
        right = {t.inside for t in there if t.kind is ThingKind.PART and t.name not in wrong}
        assert plan_the_rest(doc, wrong)
        nothing_lost(doc)
        plan_around(doc)
        nothing_lost(doc)
        assert cuts_made(doc) == before
        assert doc.plan is None or verify(doc.plan) == ()
        assert doc.plan is None or doc.plan.first == 1 + max((c.number for c in before), default=0)
        assert {(one.key,) for one in doc.layout.finished} == right
