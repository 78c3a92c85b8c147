"""Sheets with a handful of cuts in shops of every kind, each kind of work with its own seconds."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from random import Random

from shared.asked import CutsToOrder
from shared.cuts.forest import Forest
from shared.cuts.growing import grow
from shared.cuts.sequence import saw_up
from shared.job import Job
from shared.layout import LayoutSheet
from shared.lengths import MM
from shared.making.timing import Worked, worked
from shared.shop import ABSENT, Rail, RunsOn, SawBase, SawingOrder, Shop, Span, Support
from solver.cut_order.arranging import ordered
from tests.solver.cut_order.cut_orders import CutOrders, Spot, State, least_loose
from tests.solver.cut_order.few_cuts import few_cuts

RAILS = (
    (),
    (Rail(length=500 * MM),),
    (Rail(length=150 * MM), Rail(length=500 * MM)),
    (Rail(length=250 * MM), Rail(length=450 * MM)),
    (Rail(length=300 * MM), Rail(length=400 * MM), Rail(length=500 * MM)),
    (Rail(length=250 * MM, joined=2, count=2),),
    (Rail(length=150 * MM, joined=3, count=3), Rail(length=300 * MM, joined=2, count=3)),
)
BASE = SawBase(
    left_near=38 * MM, left_far=40 * MM, right_near=127 * MM, right_far=129 * MM, length=280 * MM
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Paced:
    """Sheets to be put in order, with some cuts made already."""

    asked: CutsToOrder
    keys: dict[tuple[str, int, int], str]
    made: tuple[Spot, ...]

    @property
    def job(self) -> Job:
        """Whose sheets they are."""
        return self.asked.job

    @property
    def sheets(self) -> tuple[LayoutSheet, ...]:
        """The sheets."""
        return self.asked.sheets

    def orders(self, most: int) -> list[list[str]] | None:
        """Return every order of the cuts ahead, ``None`` if there are more than so many."""
        found: list[list[str]] = []
        for order in self._orders():
            found.append([key_of(self.keys, spot) for spot in order])
            if len(found) > most:
                return None
        return found

    def _orders(self) -> Iterator[list[Spot]]:
        orders = CutOrders(self.job, self.sheets)
        limits = self._limits(orders)
        yield from _from(orders, orders.after(self.made), limits)

    def _limits(self, orders: CutOrders) -> dict[str, int]:
        """Return the room for pieces of each sheet, or of all under the name ""."""
        loose = self.job.shop.loose
        if self.job.shop.sawing is SawingOrder.BY_SETUP:
            return {"": max(loose, least_loose(orders, orders.after(self.made)))}
        own = {sheet.id: CutOrders(self.job, [sheet]) for sheet in self.sheets}
        return {
            name: max(
                loose, least_loose(its, its.after(spot for spot in self.made if spot[0] == name))
            )
            for name, its in own.items()
        }

    def seconds(self, order: list[str]) -> Worked:
        """Return what the records of all cuts say of an order of those ahead."""
        made = {one.key: one for one in forest_of(self.job, self.sheets).passes()}
        found = ordered(self.asked, [made[key] for key in (*self.asked.made, *order)])
        return worked(saw_up(self.job, found.sheets, order=found.order), self.job.shop)


def key_of(keys: dict[tuple[str, int, int], str], spot: Spot) -> str:
    """Return the key of the pass whose dust begins where that of a cut does."""
    sheet, dust = spot
    return keys[sheet, dust.x, dust.y]


def forest_of(job: Job, sheets: tuple[LayoutSheet, ...]) -> Forest:
    """Return the forest of cuts."""
    return grow(job, [sheet for sheet in sheets if sheet.tree is not None])


def _from(orders: CutOrders, state: State, limits: dict[str, int]) -> Iterator[list[Spot]]:
    if not state.lying:
        yield []
        return
    for spot, new in orders.next_states(state):
        begun = orders.sheets_begun(new)
        some = {"": sum(begun.values())} if "" in limits else begun
        if all(count <= limits[name] for name, count in some.items()):
            for rest in _from(orders, new, limits):
                yield [spot, *rest]


def paced_cuts(seed: int, most: int, *, fewest: int = 4, faces: bool = False) -> Paced:
    """Return sheets with so many cuts, some of them made, in a shop drawn for them."""
    random = Random(seed)
    few = few_cuts(seed, most, blanks=random.random() < 0.25, fewest=fewest)
    job = replace(
        few.job,
        shop=_shop(random, few.job.shop),
        stock=tuple(replace(row, density=random.choice((0, 0, 650))) for row in few.job.stock),
        parts=tuple(replace(one, show=faces and random.random() < 0.5) for one in few.job.parts),
    )
    runs = forest_of(job, few.sheets).runs
    keys = {(run.sheet, one.dust.x, one.dust.y): one.key for run in runs for one in run.passes}
    made = _some_made(random, CutOrders(job, few.sheets)) if random.random() < 0.3 else ()
    asked = CutsToOrder(job=job, sheets=few.sheets, made=tuple(key_of(keys, spot) for spot in made))
    return Paced(asked=asked, keys=keys, made=made)


def _some_made(random: Random, orders: CutOrders) -> tuple[Spot, ...]:
    state, made = orders.start, list[Spot]()
    for _ in range(random.choice((1, 1, 2, 3))):
        choices = list(orders.next_states(state))
        if len(choices) > 1:
            spot, state = random.choice(choices)
            made.append(spot)
    return tuple(made)


def _shop(random: Random, bare: Shop) -> Shop:
    rails = random.choice(RAILS)
    straight = random.random() < 0.15
    return replace(
        bare,
        cut_s=7,
        metre_s=11,
        setup_s=random.choice((0, 60, 60, 61)),
        measure_s=random.choice((0, 17, 20, 90)),
        unguided_s=random.choice((0, 53, 60)),
        rail_s=random.choice((0, 20, 23)),
        join_s=random.choice((0, 120, 31)),
        lift_s=random.choice((0, 20, 29)),
        turn_s=random.choice((0, 15, 41)),
        heavy_s=random.choice((0, 60, 37)),
        skim_s=random.choice((0, 60)),
        runs_on=RunsOn.STRAIGHTEDGE if straight else RunsOn.RAIL,
        base=BASE if straight else None,
        rails=rails,
        rail_width=random.choice((0, 0, 100 * MM)),
        overhang=random.choice((0, 50 * MM)),
        guide=random.choice((None, Span(most=100 * MM), ABSENT)),
        stop=random.choice((None, Span(most=100 * MM), ABSENT)),
        square=random.choice((0, 100 * MM, 300 * MM)),
        support=random.choice(list(Support)),
        carry=random.choice((0, 0, 80 * MM)),
        lift_g=random.choice((0, 500, 1_000)),
        turn_g=2_000,
        sawing=random.choice(list(SawingOrder)),
    )
