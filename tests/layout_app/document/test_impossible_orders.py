"""Orders set by hand that contradict the pieces or each other: said once, dropped, nothing lost."""

import json
from collections.abc import Sequence
from dataclasses import replace
from graphlib import CycleError, TopologicalSorter
from itertools import product
from pathlib import Path
from random import Random

import pytest

from layout_app.document.document import Document
from layout_app.model.cut_order import with_order
from layout_app.model.move_cut import Moving
from layout_app.model.sawing import saw
from layout_app.store.project_file import project_of, project_text
from shared.cuts.by_hand import Order, borne_out
from shared.cuts.growing import grow
from shared.cuts.order_problem import bits
from shared.cuts.pass_order import in_order
from shared.layout import CutBefore
from solver.outcome import Ordered
from tests.layout_app.small_job import document
from tests.soak.recording import any_job, any_shop

PATH = Path("written.ripfirst.json")


@pytest.fixture
def doc() -> Document:
    """Return the small job with its first plan."""
    return document()


def key(doc: Document, number: int) -> str:
    """Return the key of a cut."""
    assert doc.plan is not None
    return doc.plan.cut(number).key


def before(doc: Document, *pairs: tuple[int, int]) -> tuple[CutBefore, ...]:
    """Return orders of two cuts by their numbers."""
    return tuple(CutBefore(first=key(doc, one), then=key(doc, other)) for one, other in pairs)


def needs(doc: Document) -> tuple[int, int]:
    """Return a cut that saws a piece off, and one that cuts that piece."""
    assert doc.plan is not None
    cut = next(cut for cut in doc.plan.cuts if cut.piece != cut.sheet)
    return next(one.number for one in doc.plan.cuts if one.off == cut.piece), cut.number


def opened(doc: Document, wishes: Sequence[CutBefore]) -> tuple[Document, list[str]]:
    """Open a file into which these orders were written by hand; return what is said too."""
    fields = json.loads(project_text(doc.project))
    fields["layout"]["before"] = [{"first": one.first, "then": one.then} for one in wishes]
    other, said = Document(), list[str]()
    other.said.connect(said.append)
    other.open(project_of(PATH, json.dumps(fields).encode()), None)
    return other, said


def test_a_file_that_cuts_a_piece_before_it_is_there(doc: Document) -> None:
    """One sentence names the chain of cuts; the plan and the other orders are as they were."""
    maker, chained = needs(doc)
    sound, impossible = before(doc, (maker, chained)), before(doc, (chained, maker))
    other, said = opened(doc, (*impossible, *sound))
    assert other.layout.before == sound
    assert other.plan == doc.plan
    assert other.layout.order == doc.layout.order
    (sentence,) = said
    assert sentence.startswith(
        f"Cut {chained} before cut {maker}, as set by hand, cannot be and is dropped: piece "
    )
    assert sentence.endswith(f" does not exist before cut {maker}.")
    assert not other.saved_state.modified


def loose(doc: Document) -> tuple[int, int, int]:
    """Return three cuts that may be made in any order."""
    assert doc.plan is not None
    moving = Moving(doc.project, doc.plan)
    numbers = [cut.number for cut in doc.plan.cuts]
    for three in product(numbers, repeat=3):
        pairs = [(one, other) for one in three for other in three if one != other]
        if (
            len(set(three)) == 3
            and not moving.contradicted([])
            and all(not moving.contradicted(before(doc, pair)) for pair in pairs)
        ):
            return three
    raise AssertionError("no three cuts are free of each other")


def test_a_file_with_orders_in_a_circle(doc: Document) -> None:
    """The one that closes the circle is dropped, and the others that it goes round are named."""
    one, two, three = loose(doc)
    circle = before(doc, (one, two), (two, three), (three, one))
    other, said = opened(doc, circle)
    assert other.layout.before == circle[:2]
    assert said == [
        f"Cut {three} before cut {one}, as set by hand, cannot be and is dropped: cut {one} is set"
        f" before cut {two} by hand; cut {two} is set before cut {three} by hand."
    ]


def test_a_file_with_a_cut_before_itself_and_more(doc: Document) -> None:
    """The first is named, and how many more there are; a cut that is not there is not judged."""
    lost = CutBefore(first="1/nobody:1", then=key(doc, 2))
    other, said = opened(doc, (*before(doc, (3, 3), needs(doc)[::-1]), lost))
    assert other.layout.before == (lost,)
    (sentence,) = said
    assert sentence.startswith(
        "Cut 3 before cut 3, as set by hand, cannot be and is dropped: no cut comes before itself."
    )
    assert sentence.endswith(" So is 1 more such order.")


def test_a_new_plan_in_which_an_order_cannot_be_kept_says_so_once(doc: Document) -> None:
    """An order of cuts that are all there, but cannot go so, is dropped with its reason."""
    assert doc.plan is not None
    said: list[str] = []
    doc.said.connect(said.append)
    keys = tuple(cut.key for cut in doc.plan.cuts)
    maker, chained = needs(doc)
    wishes = before(doc, (chained, maker), (maker, chained))
    layout = replace(doc.layout, before=wishes)
    doc._sawn = replace(doc._sawn, project=replace(doc.project, layout=layout))
    ordered = Ordered(sheets=doc.layout.sheets, order=keys, seconds=0, least_s=-1)
    for _ in range(2):
        assert doc.adopt_order(saw(with_order(doc.project, ordered)))
    assert doc.layout.before == wishes[1:]
    (sentence,) = said
    assert sentence.startswith(f"Cut {chained} before cut {maker}, as set by hand, cannot be")
    assert sentence.endswith(f" does not exist before cut {maker}.")


@pytest.mark.parametrize("seed", range(25))
def test_impossible_orders_are_those_that_close_a_circle(seed: int) -> None:
    """Checked with `graphlib` of Python's library: with the orders kept a topological order
    exists, and with any one of the others none does; each chain leads through real needs.
    """
    rng = Random(seed)
    job, sheets = any_job(rng, any_shop(rng))
    keys = [one.key for one in in_order(grow(job, sheets))]
    wishes = [CutBefore(first=rng.choice(keys), then=rng.choice(keys)) for _ in range(12)]
    order = Order(job, sheets, keys)
    against = dict(order.against(wishes))
    kept = [one for one in wishes if one not in against]
    problem = order._problem
    needed = {
        one.key: {problem.made[n].key for n in bits(problem.before[place])}
        for place, one in enumerate(problem.made)
    }

    def possible(some: Sequence[CutBefore]) -> bool:
        graph = {name: set(its) for name, its in needed.items()}
        for wish in some:
            graph[wish.then].add(wish.first)
        try:
            TopologicalSorter(graph).prepare()
        except CycleError:
            return False
        return True

    assert possible(kept)
    for wish, chain in against.items():
        assert not possible([*kept, wish])
        places = [link.first for link in chain] + [chain[-1].then] if chain else []
        assert [keys[place] for place in places[:1]] == [wish.then] * bool(chain)
        assert [keys[place] for place in places[-1:]] == [wish.first] * bool(chain)
        for link in chain:
            first, then = keys[link.first], keys[link.then]
            assert first in needed[then] or CutBefore(first=first, then=then) in kept
    assert borne_out(kept, keys) == tuple(
        one for one in kept if keys.index(one.first) < keys.index(one.then)
    )
