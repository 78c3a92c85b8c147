"""Cuts moved in the sequence by hand: where they may go, and that elsewhere is impossible."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import permutations, product
from math import factorial, prod
from random import Random

import pytest
from hypothesis import HealthCheck, assume, example, given, settings
from hypothesis import strategies as st

from layout_app.document.document import Document
from layout_app.document.edit_cut_order import move_cut, restore_order
from layout_app.model.move_cut import Moving
from layout_app.model.project import Project
from layout_app.model.sawing import Sawn, saw
from shared.cuts.growing import grow
from shared.cuts.pass_order import in_order
from shared.cuts.rearranging import renamed
from shared.cuts.sequence import layout_sheet, saw_up
from shared.cuts.tally import tally
from shared.geometry import Rect
from shared.job import Job
from shared.layout import CutBefore, Layout, LayoutSheet
from shared.lengths import MM, Length
from shared.parts import Part
from shared.plan import Placement, Plan
from shared.saw import verify
from shared.shop import Axis, Shop
from shared.stock import Stock, Trims
from shared.tree import Piece, Place, Run, left_over
from tests.examples import some_of
from tests.strategies import LaidOut, laid_out

pytestmark = pytest.mark.usefixtures("qapp")

MOST_BRUTE = 8
"""Cuts of a job whose arrangements are all tried."""
MOST_WAYS = 50
"""Arrangements of a job that is tried."""


def sawn(made: LaidOut) -> Sawn:
    """Return the sheets as a project, sawn in the plain order."""
    return saw(Project(job=made.job, layout=Layout(sheets=made.sheets)))


def keys_of(shown: Sawn) -> list[str]:
    """Return the keys of all passes as the plan makes them."""
    assert shown.plan is not None
    planned = {sheet.id for sheet in shown.plan.sheets}
    sheets = [sheet for sheet in shown.project.layout.sheets if sheet.id in planned]
    order = in_order(grow(shown.project.job, sheets), shown.project.layout.order)
    return [one.key for one in order]


def walk(shown: Sawn, rng: Random, moves: int) -> Iterator[tuple[Sawn, Sawn, list[str]]]:
    """Yield before, after and the keys wanted for a number of random allowed moves."""
    for _ in range(moves):
        plan = shown.plan
        assert plan is not None
        moving = Moving(shown.project, plan)
        number = rng.randint(1, len(plan.cuts))
        to = rng.choice(moving.places(number))
        wanted = keys_of(shown)
        wanted.insert(to - 1, wanted.pop(number - 1))
        wanted = [*renamed(wanted)]
        after = saw(replace(shown.project, layout=moving.moved(number, to)))
        yield shown, after, wanted
        shown = after


def check_walk(made: LaidOut, seed: int, moves: int) -> None:
    """Take one walk; every sequence on the way is sawn by the simulated saw."""
    shown = sawn(made)
    assume(shown.plan is not None and len(shown.plan.cuts) > 1)
    for before, after, wanted in walk(shown, Random(seed), moves):
        assert after.problems == {}
        assert before.plan is not None
        assert after.plan is not None
        assert verify(after.plan) == ()
        assert keys_of(after) == wanted
        assert list(after.project.layout.order) == wanted
        one, other = (tally(shown.plan, made.job.shop) for shown in (before, after) if shown.plan)
        assert (one.cuts, one.setups, one.part_area) == (other.cuts, other.setups, other.part_area)
        for wish in after.project.layout.before:
            assert wanted.index(wish.first) < wanted.index(wish.then)


@given(laid_out(), st.integers(0, 2**32))
@settings(max_examples=some_of(30))
def test_walks(made: LaidOut, seed: int) -> None:
    """After every move of a random walk the saw takes the sequence, in the order wanted."""
    check_walk(made, seed, 20)


@pytest.mark.soak
@given(laid_out(), st.integers(0, 2**32))
@settings(max_examples=200)
def test_200_walks(made: LaidOut, seed: int) -> None:
    """200 random walks of 20 moves, every sequence sawn."""
    check_walk(made, seed, 20)


def arrangements(run: Run, rect: Rect, kerf: Length) -> Iterator[Run]:
    """Yield a run with its pieces, and theirs, in every order.

    Only the piece that remains at an exact ending stays the last: it is sawn off by nothing.
    """
    exact = left_over(run, rect, kerf) <= 0
    inner = [list(inner_arrangements(piece, run, rect, kerf)) for piece in run.pieces]
    for pieces in product(*inner):
        free, last = (pieces[:-1], pieces[-1:]) if exact else (pieces, ())
        for order in permutations(free):
            yield replace(run, pieces=(*order, *last))


def count(run: Run | None) -> int:
    """Return how many arrangements there are at most."""
    if run is None:
        return 1
    return factorial(len(run.pieces)) * prod(count(piece.run) for piece in run.pieces)


def inner_arrangements(piece: Piece, run: Run, rect: Rect, kerf: Length) -> Iterator[Piece]:
    """Yield a piece with its own run in every order; only its size matters, not its place."""
    if piece.run is None:
        yield piece
        return
    upright = run.axis.value == "rip"
    size = {"width": piece.size} if upright else {"length": piece.size}
    for made in arrangements(piece.run, replace(rect, **size), kerf):
        yield replace(piece, run=made)


def ways(made: LaidOut) -> Iterator[tuple[LayoutSheet, ...]]:
    """Yield the sheets in every arrangement of their pieces."""
    rows = {row.id: row for row in made.job.stock}
    each = []
    for sheet in (sheet for sheet in made.sheets if sheet.placements):
        row = rows[sheet.stock]
        rect = Rect(x=0, y=0, length=row.length, width=row.width)
        trees = [sheet.tree]
        if sheet.tree is not None:
            trees = list(arrangements(sheet.tree, rect, made.job.shop.kerf))
        each.append([replace(sheet, tree=tree) for tree in trees])
    yield from product(*each)


def short_part_in_a_long_block() -> LaidOut:
    """Return a sheet whose block may reach into a trimmed end, since the part in it does not."""
    small, tall = 412_750, 11_628_000
    part = Part(id="p1", name="Part", length=small, width=small, material="ply")
    row = Stock(
        id="s",
        name="Sheet",
        material="ply",
        length=50_000_000,
        width=100_000_000,
        thickness=720_000,
        trims=Trims(end=400_000),
    )
    place = Piece(size=small, place=Place(part="p1", copy=1))
    inner = Piece(size=small, run=Run(axis=Axis.CROSSCUT, pieces=(place,)))
    block = Piece(size=tall, run=Run(axis=Axis.RIP, pieces=(inner,)))
    waste = Piece(size=37_560_000), Piece(size=small)
    lying = Placement(part="p1", copy=1, sheet="1", x=0, y=0, length=small, width=small)
    tree = Run(axis=Axis.CROSSCUT, pieces=(block, *waste))
    sheet = LayoutSheet(id="1", stock="s", placements=(lying,), tree=tree)
    return LaidOut(job=Job(parts=(part,), stock=(row,), shop=Shop(kerf=0)), sheets=(sheet,))


@given(laid_out(most_sheets=2, deepest=3))
@example(short_part_in_a_long_block())
@settings(max_examples=some_of(40), suppress_health_check=[HealthCheck.filter_too_much])
def test_every_refused_move_is_impossible(made: LaidOut) -> None:
    """No arrangement of pieces on the sheets lets the saw follow an order that is refused."""
    shown = sawn(made)
    assume(shown.plan is not None and 1 < len(shown.plan.cuts) <= MOST_BRUTE)
    assert shown.plan is not None
    assume(prod(count(sheet.tree) for sheet in made.sheets) <= MOST_WAYS)
    tried = [sheets for sheets in ways(made) if is_sound(made, sheets)]
    moving, keys = Moving(shown.project, shown.plan), keys_of(shown)
    possible = {
        tuple(one.key for one in in_order(forest, wanted))
        for forest in (grow(made.job, sheets) for sheets in tried)
        for wanted in every_move(keys)
    }
    for number, to in product(range(1, len(keys) + 1), repeat=2):
        order = [*keys]
        order.insert(to - 1, order.pop(number - 1))
        allowed = to in moving.places(number)
        assert (renamed(order) in possible) is allowed
        assert bool(moving.why_not(number, to)) is not allowed


def is_sound(made: LaidOut, sheets: tuple[LayoutSheet, ...]) -> bool:
    """Say whether the simulated saw takes the sheets, whatever the order of their cuts."""
    rows = {row.id: row for row in made.job.stock}
    laid = [
        layout_sheet(sheet.id, rows[sheet.stock], made.job.shop.kerf, sheet.tree)
        for sheet in sheets
        if sheet.tree is not None
    ]
    return not verify(saw_up(made.job, laid))


def every_move(keys: list[str]) -> Iterator[list[str]]:
    """Yield the keys with each one moved to each place."""
    for at, to in product(range(len(keys)), repeat=2):
        order = [*keys]
        order.insert(to, order.pop(at))
        yield order


@given(laid_out(), st.integers(0, 2**32))
@settings(max_examples=some_of(30))
def test_undo_and_redo(made: LaidOut, seed: int) -> None:
    """A move is one undo step; restoring the planned order is another."""
    shown = sawn(made)
    assume(shown.plan is not None and len(shown.plan.cuts) > 1)
    doc = Document(shown.project)
    assert doc.plan is not None
    rng = Random(seed)
    number = rng.randint(1, len(doc.plan.cuts))
    places = [to for to in Moving(doc.project, doc.plan).places(number) if to != number]
    assume(places)
    first = doc.project
    assert move_cut(doc, number, rng.choice(places))
    moved = doc.project
    assert moved.layout.before
    assert restore_order(doc)
    assert doc.layout.before == ()
    doc.undo_stack.undo()
    assert doc.project == moved
    doc.undo_stack.undo()
    assert doc.project == first
    doc.undo_stack.redo()
    assert doc.project == moved
    assert not restore_order(Document(first))


def test_a_made_cut_keeps_its_place() -> None:
    """What is ticked, and all up to it, cannot be moved, and nothing goes before it."""
    made = one_sheet()
    doc = Document(made.project)
    assert doc.plan is not None
    doc.set_progress(doc.progress.with_ticks(doc.plan, [2]))
    said: list[str] = []
    doc.said.connect(said.append)
    assert not move_cut(doc, 2, 3)
    assert not move_cut(doc, 3, 1)
    assert all("is made" in sentence for sentence in said)
    assert len(said) == 2


def test_the_chain_is_told_link_by_link() -> None:
    """A block cut cannot come before the crosscut of its strip, nor that before the rip."""
    made = one_sheet()
    moving = Moving(made.project, plan_of(made))
    last = len(plan_of(made).cuts)
    assert moving.why_not(last, 1) == (
        f"Cut {last} cannot become cut 1: piece 1a1 does not exist before cut 3;"
        " piece 1a does not exist before cut 1."
    )
    assert moving.places(last)[0] == 4


def test_wishes_that_contradict_a_later_move_are_forgotten() -> None:
    """Moved there and back, a cut has the neighbours it was put between last."""
    made = one_sheet()
    doc = Document(made.project)
    keys = keys_of(made)
    assert move_cut(doc, 1, 2)
    assert CutBefore(first=keys[1], then=keys[0]) in doc.layout.before
    assert move_cut(doc, 2, 1)
    assert CutBefore(first=keys[1], then=keys[0]) not in doc.layout.before
    assert CutBefore(first=keys[0], then=keys[1]) in doc.layout.before


def plan_of(shown: Sawn) -> Plan:
    """Return the plan of sheets that can be cut."""
    assert shown.plan is not None
    return shown.plan


def one_sheet() -> Sawn:
    """Two strips; the first is crosscut twice, and its first block ripped once: five cuts."""
    shelf = Part(id="s", name="Shelf", copies=2, length=600 * MM, width=200 * MM, material="ply")
    rail = Part(id="r", name="Rail", copies=1, length=800 * MM, width=403 * MM, material="ply")
    top = Part(id="t", name="Top", copies=1, length=2440 * MM, width=300 * MM, material="ply")
    row = Stock(
        id="full",
        name="full",
        material="ply",
        length=2440 * MM,
        width=1220 * MM,
        thickness=18 * MM,
    )
    shelves = tuple(Piece(size=200 * MM, place=Place(part="s", copy=copy)) for copy in (1, 2))
    blocks = (
        Piece(size=600 * MM, run=Run(axis=Axis.RIP, pieces=shelves)),
        Piece(size=800 * MM, place=Place(part="r", copy=1)),
    )
    strips = (
        Piece(size=403 * MM, run=Run(axis=Axis.CROSSCUT, pieces=blocks)),
        Piece(size=300 * MM, place=Place(part="t", copy=1)),
    )
    job = Job(parts=(shelf, rail, top), stock=(row,), shop=Shop(kerf=3 * MM))
    tree = Run(axis=Axis.RIP, pieces=strips)
    sheet = layout_sheet("1", row, 3 * MM, tree)
    return saw(Project(job=job, layout=Layout(sheets=(sheet,))))
