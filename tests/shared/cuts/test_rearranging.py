"""The pieces of a run lie in the order in which they are sawn off, unless they have to stay."""

from collections.abc import Iterator
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shared.asked import CutsToOrder
from shared.cuts.growing import grow
from shared.cuts.rearranging import rearranged
from shared.cuts.sequence import layout_sheet, saw_up
from shared.geometry import Rect
from shared.job import Job
from shared.layout import CutBefore, LayoutSheet
from shared.lengths import MM, Length
from shared.parts import Part
from shared.saw import verify
from shared.shop import Axis, Shop
from shared.stock import Stock, Trims
from shared.tree import Piece, Place, Run, runs
from solver.budget.stop import Stop
from solver.cut_order.order import put_in_order
from tests.examples import some_of
from tests.solver.cut_order.few_cuts import few_cuts
from tests.strategies import LaidOut, laid_out

SIDE = 400 * MM


def keys_of(job: Job, sheets: tuple[LayoutSheet, ...]) -> list[str]:
    """Return the keys of all passes."""
    cuttable = [sheet for sheet in sheets if sheet.tree is not None]
    return [one.key for one in grow(job, cuttable).passes()]


def again(
    job: Job, sheets: tuple[LayoutSheet, ...], ranks: dict[str, int]
) -> tuple[LayoutSheet, ...]:
    """Return the sheets, rearranged."""
    return tuple(_again(job, sheet, ranks) for sheet in sheets)


def _again(job: Job, sheet: LayoutSheet, ranks: dict[str, int]) -> LayoutSheet:
    if sheet.tree is None:
        return sheet
    row, kerf = job.stock_row(sheet.stock), job.shop.kerf
    whole = Rect(x=0, y=0, length=row.length, width=row.width)
    return layout_sheet(
        sheet.id, row, kerf, rearranged(sheet.tree, sheet.id, whole, kerf, ranks), sheet.yours
    )


@settings(max_examples=some_of(100))
@given(made=laid_out(), seed=st.integers(0, 1000))
def test_keys_say_what_is_sawn_off_wherever_it_lies(made: LaidOut, seed: int) -> None:
    """Every pass has a key of its own, and the same ones after rearranging by any ranks."""
    keys = keys_of(made.job, made.sheets)
    assert len(keys) == len(set(keys))
    mixed = Random(seed).sample(keys, len(keys))
    moved = again(made.job, made.sheets, {key: n for n, key in enumerate(mixed)})
    assert sorted(keys_of(made.job, moved)) == sorted(keys)


@settings(max_examples=some_of(100))
@given(made=laid_out(), seed=st.integers(0, 1000))
def test_rearranging_twice_is_rearranging_once(made: LaidOut, seed: int) -> None:
    """What lies in the order of the ranks stays as it is, piece by piece and run by run."""
    keys = keys_of(made.job, made.sheets)
    ranks = {key: n for n, key in enumerate(Random(seed).sample(keys, len(keys)))}
    once = again(made.job, made.sheets, ranks)
    assert again(made.job, once, ranks) == once
    for passes in _passes(made.job, once):
        assert passes == sorted(passes, key=lambda key: ranks[key])


def _passes(job: Job, sheets: tuple[LayoutSheet, ...]) -> Iterator[list[str]]:
    """Yield the keys of each run from its reference end on, without trims."""
    cuttable = [sheet for sheet in sheets if sheet.tree is not None]
    for run in grow(job, cuttable).runs:
        yield [one.key for one in run.passes[bool(run.run.trim) :]]


@pytest.mark.parametrize("seed", range(40))
def test_a_run_takes_the_same_room_in_any_order(seed: int) -> None:
    """Each run has the same pieces over the same length, so whatever follows it can be sawn."""
    made = few_cuts(seed, 12)
    keys = keys_of(made.job, made.sheets)
    ranks = {key: n for n, key in enumerate(Random(seed).sample(keys, len(keys)))}
    for before, after in zip(made.sheets, again(made.job, made.sheets, ranks), strict=True):
        whole = Rect(x=0, y=0, length=SIDE, width=SIDE)
        given = runs(before.tree, whole, made.job.shop.kerf)
        moved = runs(after.tree, whole, made.job.shop.kerf)
        assert sorted(map(_room, given)) == sorted(map(_room, moved))


def _room(one: tuple[int, Run, Rect]) -> tuple[object, ...]:
    level, run, rect = one
    sizes = sorted(piece.size for piece in run.pieces)
    return level, run.axis, run.trim, rect.length, rect.width, sizes


def strips(far: Length, group: str, *pieces: Piece) -> tuple[Job, LayoutSheet]:
    """Return a job of two strips of 120 mm, and a sheet of 400 x 400 mm ripped so, with no kerf."""
    row = Stock(
        id="s",
        name="s",
        material="ply",
        length=SIDE,
        width=SIDE,
        thickness=18 * MM,
        trims=Trims(far=far),
    )
    wanted = Part(
        id="p", name="p", length=SIDE, width=120 * MM, copies=2, material="ply", group=group
    )
    job = Job(name="Strips", parts=(wanted,), stock=(row,), shop=Shop(kerf=0))
    return job, layout_sheet("1", row, 0, Run(axis=Axis.RIP, pieces=pieces))


def strip(copy: int) -> Piece:
    """Return a strip that is a copy of the part."""
    return Piece(size=120 * MM, place=Place(part="p", copy=copy))


def places(job: Job, sheet: LayoutSheet, first: str, then: str) -> dict[int, Length]:
    """Return how far each copy lies from the edge once one pass is wanted before another."""
    asked = CutsToOrder(job=job, sheets=(sheet,), before=(CutBefore(first=first, then=then),))
    *_, one = put_in_order(asked, Stop())
    assert verify(saw_up(job, one.sheets, order=one.order)) == ()
    return {lying.copy: lying.y for lying in one.sheets[0].placements}


def test_strips_change_places_with_their_passes() -> None:
    """The second copy is sawn off first, and lies first."""
    job, sheet = strips(0, "", strip(1), strip(2))
    assert places(job, sheet, "1/p:2", "1/p:1") == {2: 0, 1: 120 * MM}


def test_what_reaches_into_a_trimmed_edge_stays() -> None:
    """Waste over a far trim of 10 mm stays there: a strip in its place would reach into it.

    Two strips of 120 mm and waste of 155 mm take 395 mm of 400; the trim begins at 390 mm.
    """
    waste = Piece(size=155 * MM)
    key = f"1w{155 * MM}-1/p:1"
    job, sheet = strips(10 * MM, "", strip(1), strip(2), waste)
    assert places(job, sheet, key, "1/p:2") == {1: 0, 2: 120 * MM}
    job, sheet = strips(0, "", strip(1), strip(2), waste)
    assert places(job, sheet, key, "1/p:2")[2] == 275 * MM


def test_a_figure_stays() -> None:
    """Strips of one match group keep their order, so that the figure flows across them."""
    job, sheet = strips(0, "g", strip(1), strip(2))
    assert places(job, sheet, "1/p:2", "1/p:1") == {1: 0, 2: 120 * MM}
