"""The planner and its compact model against a general mixed-integer program."""

from dataclasses import replace
from functools import cache
from typing import NamedTuple

import pytest

from shared.job import Job
from shared.lengths import MM
from shared.parts import GrainRule
from shared.plan import Plan
from shared.shop import CutRule, FirstCut
from shared.stock import Trims
from solver.limits.measure import counts_sheets
from solver.planning.proof_status import unit_of
from solver.prepare.instances import prepare
from solver.proof.guillotine import CompactResult, cut
from solver.proof.stoppable import Reach
from tests.shared.cuts.test_sequence import Row as KerfRow
from tests.shared.cuts.test_sequence import rows as kerf_rows
from tests.solver.oracle import Verdict, least_stock
from tests.solver.small_lists import small_list
from tests.solver.some_jobs import job, part, sheet
from tests.solver.until_proven import until_proven

QUICK = range(20)
BATCH = 10


class Opinions(NamedTuple):
    """What three ways to solve one job say of its stock."""

    name: str
    misfits: int
    unit: int
    oracle: Verdict
    compact: CompactResult
    plan: Plan

    def check(self) -> None:
        """Whoever proves says the same; nobody finds less than what is proven.

        Parts that fit no sheet leave the planner's problem before it is solved; the oracle
        finds no plan for the whole list then.
        """
        (claim,) = self.plan.proof.materials
        waits = sum(one.copies for one in self.plan.unplaced)
        if self.oracle.is_proven and self.compact.is_proven and not self.misfits:
            assert self.compact.value is None or (
                self.compact.value * self.unit == self.oracle.value
            ), self.name
        if self.oracle.is_proven and self.oracle.value is None:
            assert waits, self.name
        elif self.oracle.is_proven:
            assert waits or claim.value >= self.oracle.value, self.name
            assert claim.bound <= self.oracle.value, self.name
            if claim.proven:
                assert claim.value == self.oracle.value, self.name

    @property
    def all_proven(self) -> bool:
        """Whether no way left anything open; the planner proves nothing where parts wait."""
        settled = self.plan.proof.proven or self.oracle.value is None
        return self.oracle.is_proven and self.compact.is_proven and settled


def opinions(what: Job, seconds: float, work: int) -> Opinions:
    """Solve a job of one material three ways."""
    prepared = prepare(what)
    (instance,) = prepared.instances
    costs = prepared.ground.costs[instance.material]
    copies = sum(item.demand for item in instance.items)
    return Opinions(
        name=what.name,
        misfits=sum(one.copies for one in prepared.unplaced),
        unit=1 if counts_sheets(instance) else unit_of(instance, costs),
        oracle=least_stock(what, seconds),
        compact=cut(instance, max_sheets=copies, reach=Reach(work=20.0)),
        plan=until_proven(what, work),
    )


@cache
def quick(seed: int) -> Opinions:
    """Solve a list of up to eight parts three ways."""
    return opinions(small_list(seed, 8), seconds=60.0, work=50)


@pytest.mark.parametrize("seed", QUICK)
def test_the_oracle_agrees_on_random_lists(seed: int) -> None:
    """A list of up to eight parts has one least price, and all three ways prove it."""
    heard = quick(seed)
    heard.check()
    assert heard.all_proven


def test_the_random_lists_are_worth_asking_about() -> None:
    """Some need several sheets, and some cannot be had from the stock at hand."""
    heard = [quick(seed) for seed in QUICK]
    assert sum(len(one.plan.sheets) > 1 for one in heard) >= 3
    assert any(one.oracle.value is None for one in heard)


@pytest.mark.soak
@pytest.mark.timeout(1200)
@pytest.mark.parametrize("begin", range(1000, 1200, BATCH))
def test_the_oracle_agrees_on_longer_lists(begin: int) -> None:
    """Two hundred lists of up to twelve parts have one least price, whoever proves it."""
    lists = range(begin, begin + BATCH)
    heard = [opinions(small_list(seed, 12), seconds=60.0, work=200) for seed in lists]
    for one in heard:
        one.check()
    proven = sum(one.all_proven for one in heard)
    print(f"lists {begin} to {begin + BATCH - 1}: {proven} proven three ways")
    assert proven >= BATCH // 2


def least(what: Job) -> int | None:
    """Return what the oracle proves."""
    verdict = least_stock(what, 20.0)
    assert verdict.is_proven
    return verdict.value


@pytest.mark.parametrize("row", kerf_rows())
def test_the_oracle_knows_the_kerf_table(row: KerfRow) -> None:
    """Just n strips lie on a sheet, one more does not (workshop.md, section 7, K1 to K14)."""
    length = 1000 * MM
    only = sheet(length=length, width=row.width, trims=Trims(near=row.trim), at_hand=1)
    wanted = part("strip", length, row.strip, row.n)
    assert least(job(wanted, only, kerf=row.kerf)) == 1
    assert least(job(replace(wanted, copies=row.n + 1), only, kerf=row.kerf)) is None


PINWHEEL = job(part("a", 30 * MM, 20 * MM, 4, rule=GrainRule.EITHER), kerf=0)


def test_the_oracle_cuts_edge_to_edge_only() -> None:
    """Four parts around a hole fill a square that no saw can cut so: they take two sheets."""
    square = replace(PINWHEEL, stock=(sheet("s", 50 * MM, 50 * MM),))
    larger = replace(PINWHEEL, stock=(sheet("s", 50 * MM, 60 * MM),))
    assert least(square) == 2
    assert least(larger) == 1


def test_the_oracle_knows_levels_and_directions() -> None:
    """Two parts stacked beside a third need a rip in a block, or a crosscut to begin with."""
    parts = (part("tall", 10 * MM, 20 * MM), part("low", 20 * MM, 10 * MM, 2))
    stacked = job(*parts, sheet("s", 30 * MM, 20 * MM), kerf=0)
    assert least(stacked) == 1
    assert least(replace(stacked, rule=CutRule(levels=2))) == 2
    assert least(replace(stacked, rule=CutRule(levels=2, first=FirstCut.CROSSCUT))) == 1
    assert least(replace(stacked, rule=CutRule(levels=2, first=FirstCut.EITHER))) == 1


def test_the_oracle_knows_the_last_trim() -> None:
    """Parts of two lengths share a block: the shorter is trimmed, with three levels only."""
    parts = (part("long", 20 * MM, 10 * MM), part("short", 15 * MM, 10 * MM))
    trimmed = job(*parts, part("rest", 10 * MM, 20 * MM), sheet("s", 30 * MM, 20 * MM), kerf=0)
    assert least(trimmed) == 1
    assert least(replace(trimmed, rule=CutRule(levels=2))) == 2
