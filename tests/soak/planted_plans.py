"""Good plans to plant errors in: of the demo, of random jobs, with all that a plan can hold."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory

from layout_app.cli.demo import copy_to
from layout_app.document.document import Document
from layout_app.document.ticks import tick
from layout_app.model.carry_over import opened
from layout_app.model.merge_plan import adopted
from layout_app.model.project import Project
from layout_app.model.replan import replanned
from layout_app.model.sawing import saw
from layout_app.store.project_file import read_project
from shared.job import Job, MatchGroup
from shared.lengths import METRE, MM
from shared.parts import GrainRule, Part
from shared.plan import Goal, MaterialProof, Plan, Proof
from shared.shop import FirstCut, Rail, Shop, Span, TableSaw
from shared.stock import AreaPrice, AreaUnit, NoGo, SheetGrain, Stock, Trims
from solver.budget.stop import Budget
from solver.run import run
from tests import finishing_job
from tests.layout_app.small_job import document
from tests.properties.test_mistakes import plan_around

FULL = Stock(
    id="ply",
    name="ply",
    material="ply",
    length=2440 * MM,
    width=1220 * MM,
    thickness=18 * MM,
    price=5200,
    density=680,
)


def good_plans(*, short: bool = False) -> Iterator[tuple[str, Plan]]:
    """Yield plans that the saw accepts, each with what it is; if ``short`` the small ones."""
    yield "blanks", first_plan(finishing_job.JOB)
    yield "begun", begun()
    yield "planned from pieces", from_pieces()
    yield "matched sets", first_plan(matched())
    yield "proven", proven()
    if short:
        return
    yield "matched sets, turned", first_plan(matched(SheetGrain.ALONG_W))
    yield "too little stock", first_plan(at_random(5, 30, at_hand=1))
    yield "prices by area", first_plan(by_area(at_random(7, 40)))
    yield "bad places", first_plan(with_bad_places(at_random(11, 24)))
    for seed, number in ((1, 25), (2, 60), (3, 120)):
        yield f"random, {number} parts", first_plan(at_random(seed, number))
    with TemporaryDirectory() as folder:
        for path in copy_to(Path(folder)):
            yield path.name, first_plan(read_project(path).job)


def first_plan(job: Job) -> Plan:
    """Return the planner's first plan of a job, as the program keeps it."""
    plan = run(job, Budget(time_s=0.0), lambda event: None)
    assert plan is not None
    sawn = saw(adopted(opened(Project(job=job)), plan))
    assert sawn.plan is not None, sawn.problems
    return sawn.plan


def proven() -> Plan:
    """Return a plan of one sheet, of which everything is claimed that can be."""
    doc = document()
    assert doc.plan is not None
    of_ply = MaterialProof(
        material="birch ply",
        goal=Goal.FEWEST_SHEETS,
        value=1,
        bound=1,
        proven=True,
        least_cuts=len(doc.plan.cuts) - 1,
        least_sawing=True,
        best_remainder=True,
    )
    return replace(
        doc.plan,
        proof=Proof(
            goal=Goal.LEAST_PRICE,
            value=5200,
            bound=5200,
            proven=True,
            rule="rip first, three levels and a last trim",
            materials=(of_ply,),
        ),
    )


def begun() -> Plan:
    """Return a plan of which three cuts are made."""
    doc = document()
    tick(doc, [1, 2, 3])
    assert doc.plan is not None
    return doc.plan


def from_pieces() -> Plan:
    """Return a plan that goes on from the pieces of a sheet, with parts that are finished."""
    doc = document()
    assert doc.plan is not None
    tick(doc, [cut.number for cut in doc.plan.cuts][:6])
    assert doc.plan is not None
    rest = Document(replanned(doc.project, doc.plan, {}))
    plan_around(rest)
    assert rest.plan is not None
    assert rest.plan.finished
    return rest.plan


def matched(grain: SheetGrain = SheetGrain.ALONG_L) -> Job:
    """Return a job of two sets, one in two rows that takes two sheets, and other parts."""
    front = Part(id="front", name="Front", length=780 * MM, width=380 * MM, material="ply")
    door = Part(id="door", name="Door", length=700 * MM, width=300 * MM, material="ply")
    return Job(
        name="Sets",
        parts=(
            replace(front, copies=12, group="fronts"),
            replace(door, copies=2, group="doors"),
            Part(
                id="shelf", name="Shelf", length=500 * MM, width=200 * MM, copies=5, material="ply"
            ),
        ),
        groups=(MatchGroup(name="fronts", columns=3), MatchGroup(name="doors", columns=2)),
        stock=(replace(FULL, grain=grain),),
        shop=Shop(kerf=2 * MM),
    )


def at_random(seed: int, number: int, at_hand: int | None = None) -> Job:
    """Return a job of two materials in a shop with limits and a table saw."""
    chance, parts = Random(seed), list[Part]()
    while number:
        copies = min(chance.randint(1, 5), number)
        number -= copies
        parts.append(
            Part(
                id=f"p{len(parts)}",
                name=f"Part {len(parts)}",
                length=chance.randint(160, 900) * MM,
                width=chance.randint(60, 500) * MM,
                copies=copies,
                material=("ply", "mdf")[len(parts) % 2],
                grain_rule=chance.choice(list(GrainRule)),
            )
        )
    mdf = replace(FULL, id="mdf", name="mdf", material="mdf", grain=SheetGrain.NONE, price=3900)
    trims = Trims(near=10 * MM, start=10 * MM)
    return Job(
        name="At random",
        parts=tuple(parts),
        stock=(
            replace(FULL, at_hand=at_hand, trims=trims),
            replace(mdf, at_hand=at_hand),
            replace(mdf, id="rest", name="rest", length=900 * MM, width=600 * MM, at_hand=1),
        ),
        shop=Shop(
            kerf=2 * MM,
            rails=(Rail(length=1400 * MM, joined=2, count=2),),
            carry=80 * MM,
            hold=200 * MM,
            table=TableSaw(kerf=3 * MM, fence=Span(most=700 * MM)),
        ),
    )


def by_area(job: Job) -> Job:
    """Return a job with a price by area of one material, and none of the other."""
    price = AreaPrice(material="ply", price=1800, per=AreaUnit.SQUARE_METRE)
    stock = tuple(replace(row, price=None) for row in job.stock)
    rule = replace(job.rule, first=FirstCut.CROSSCUT)
    return replace(job, stock=stock, area_prices=(price,), rule=rule)


def with_bad_places(job: Job) -> Job:
    """Return a job whose sheets have two bad places, one of them for show faces only."""
    bad = NoGo(x=METRE, y=500 * MM, length=80 * MM, width=60 * MM)
    corner = NoGo(x=0, y=0, length=90 * MM, width=90 * MM, show_only=True)
    parts = tuple(replace(part, show=number % 3 == 0) for number, part in enumerate(job.parts))
    stock = tuple(
        replace(row, no_go=(bad, corner)) if row.id == "ply" else row for row in job.stock
    )
    return replace(job, parts=parts, stock=stock, shop=replace(job.shop, rails=()))
