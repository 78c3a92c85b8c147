"""The order of few cuts as a tour of a general program: costs lie on pairs of neighbours alone.

So it is where nothing but set-ups, lifts and turns takes time. What the cuts are, which piece each
goes through and what has to come first is read from the trees by `CutOrders`; the planner's own
problem has no part in it.
"""

from collections.abc import Iterator
from dataclasses import replace
from itertools import permutations

from shared.job import Job
from shared.layout import LayoutSheet
from shared.shop import SawingOrder, Shop
from tests.solver.cut_order.cut_orders import CutOrders, Pile, Stroke, is_set
from tests.solver.cut_order.few_cuts import FewCuts, few_cuts
from tests.solver.cut_order.order_programs import least_tour

SETUP, LIFT, TURN = 60, 20, 15


def some_cuts(seed: int, most: int) -> FewCuts:
    """Return few cuts, none of them a trim, whose neighbours alone decide what they take."""
    for tried in range(seed * 1_000, (seed + 1) * 1_000):
        made = few_cuts(tried, most, fewest=5)
        if all(map(is_set, CutOrders(made.job, made.sheets).settings.values())):
            shop = Shop(
                kerf=made.job.shop.kerf,
                setup_s=SETUP,
                lift_s=LIFT,
                turn_s=TURN,
                loose=99,
                sawing=SawingOrder.BY_SETUP,
            )
            return replace(made, job=replace(made.job, shop=replace(shop, cut_s=0)))
    raise LookupError(seed)


def least_seconds(job: Job, sheets: tuple[LayoutSheet, ...]) -> int:
    """Return what the best order takes."""
    piles = CutOrders(job, sheets).piles
    cuts = [(pile, place) for pile, one in enumerate(piles) for place in range(len(one.strokes))]
    number = {cut: at for at, cut in enumerate(cuts)}
    pieces = _pieces(piles)
    first = [SETUP + LIFT] * len(cuts)
    arcs = {}
    for one, other in permutations(cuts, 2):
        before, after = _stroke(piles, one), _stroke(piles, other)
        lying = {pieces[one[0]], None if before.lays is None else pieces[before.lays]}
        crosses = before.setting[1] != after.setting[1]
        handling = (TURN if crosses else 0) if pieces[other[0]] in lying else LIFT
        setting = SETUP if before.setting != after.setting else 0
        arcs[number[one], number[other]] = setting + handling
    needed = {(number[one], number[other]) for one, other in _before(piles)}
    return least_tour(first, arcs, _closed(needed))


def _stroke(piles: list[Pile], cut: tuple[int, int]) -> Stroke:
    return piles[cut[0]].strokes[cut[1]]


def _pieces(piles: list[Pile]) -> list[int]:
    """Return a number for the piece of each pile: what remains of one is still the same piece."""
    pieces = list(range(len(piles)))
    for at, pile in enumerate(piles):
        if pile.strokes and pile.rest is not None:
            pieces[pile.rest] = pieces[at]
    return pieces


def _before(piles: list[Pile]) -> Iterator[tuple[tuple[int, int], tuple[int, int]]]:
    for at, pile in enumerate(piles):
        for place, stroke in enumerate(pile.strokes):
            if stroke.lays is not None:
                for other in range(len(piles[stroke.lays].strokes)):
                    yield (at, place), (stroke.lays, other)
            if pile.rest is not None:
                for other in range(len(piles[pile.rest].strokes)):
                    yield (at, place), (pile.rest, other)


def _closed(pairs: set[tuple[int, int]]) -> set[tuple[int, int]]:
    """Return pairs with all that follow from them."""
    while True:
        more = {(a, d) for a, b in pairs for c, d in pairs if b == c} - pairs
        if not more:
            return pairs
        pairs = pairs | more
