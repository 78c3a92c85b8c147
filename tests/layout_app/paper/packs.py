"""Random jobs with their plans, as what is put on paper; names of every hostile kind."""

from functools import lru_cache
from random import Random

from layout_app.model.words.wording import unplaced_sentences
from layout_app.paper.ink import Page
from layout_app.paper.matter import Matter, matter_of
from layout_app.paper.pack.book import Paper
from layout_app.paper.pack.whole import pack_pages
from layout_app.paper.wish import ExportWish
from shared.job import Job
from shared.lengths import INCH, MM, LengthStyle, Unit
from shared.parts import Bands, GrainRule, Part
from shared.shop import Rail, Shop, Span, TableSaw
from shared.stock import SheetGrain, Stock, Trims
from solver.budget.stop import Budget
from solver.run import run

NAMES = (
    "Side",
    "Shelf, adjustable",
    "a" * 300,
    "Apron of the long table " * 12,
    "🪚👩\N{ZERO WIDTH JOINER}🔧 bench 🪵" * 6,
    "דלת ימין של הארון",
    "رف طويل",
    "bell\x07 null\x00 tab\t line\n end",
    "<script>alert(1)</script> & \"side\" 'B'",
    "=SUM(1;2)",
    "e\N{COMBINING ACUTE ACCENT}" * 40,
    "抽屉底板" * 20,
    "W" * 40,
    "\N{RIGHT-TO-LEFT OVERRIDE}reversed",
    "",
)
IDS = ("p{}", "Seite {} & <b>", "teil/{}", "פנל{}", "🪚{}", "a" * 60 + "{}", "x:{}\n")
SHEETS = {
    Unit.INCH: ((96 * INCH, 48 * INCH), (60 * INCH, 60 * INCH), (31 * INCH, 17 * INCH)),
    Unit.MM: ((2440 * MM, 1220 * MM), (1250 * MM, 2500 * MM), (700 * MM, 430 * MM)),
}
MATERIALS = ("birch ply", "oak-faced board with a name that is rather long")


def random_job(seed: int) -> Job:
    """Return the job of that number: up to 12 rows of parts, in inches or millimetres."""
    dice = Random(seed)
    unit = dice.choice((Unit.INCH, Unit.MM))
    step = INCH // 16 if unit is Unit.INCH else MM // 2
    materials = MATERIALS[: dice.choice((1, 1, 2))]
    return Job(
        name=dice.choice(("Bookcase", *NAMES)),
        parts=tuple(_part(dice, n, step, materials) for n in range(dice.randint(1, 12))),
        stock=tuple(
            _stock(dice, f"{material} {row}", material, SHEETS[unit], whole=not row)
            for material in materials
            for row in range(dice.choice((1, 1, 2)))
        ),
        shop=_shop(dice),
        style=LengthStyle(unit=unit, denominator=dice.choice((16, 32, 64))),
    )


def _part(dice: Random, number: int, step: int, materials: tuple[str, ...]) -> Part:
    def some(least: int, most: int) -> int:
        return dice.randint(least * MM // step, most * MM // step) * step

    band = dice.choice((0, 0, MM // 2, 2 * MM))
    return Part(
        id=dice.choice(IDS).format(number),
        name=dice.choice(NAMES),
        copies=dice.choice((1, 1, 2, 3, 7)),
        length=some(60, 900),
        width=some(40, 420),
        material=dice.choice(materials),
        grain_rule=dice.choice(tuple(GrainRule)),
        bands=Bands(top=band, left=dice.choice((0, band)), right=dice.choice((0, band))),
        fit_allowance=dice.choice((0, 0, 0, 4 * MM)),
        note=dice.choice(("", "", *NAMES)),
    )


def _stock(
    dice: Random, key: str, material: str, sizes: tuple[tuple[int, int], ...], *, whole: bool
) -> Stock:
    length, width = dice.choice(sizes[:2]) if whole else sizes[2]
    trim = dice.choice((0, 8 * MM))
    return Stock(
        id=key,
        name=dice.choice(("full sheet", "offcut", *NAMES)),
        material=material,
        length=length,
        width=width,
        thickness=dice.choice((18 * MM, 45 * INCH // 64)),
        grain=dice.choice(tuple(SheetGrain)),
        trims=Trims(near=trim, start=trim),
        price=dice.choice((0, 8450)),
        at_hand=None if whole else 1,
    )


def _shop(dice: Random) -> Shop:
    """Return a shop of any kerf; half of them with limits, so that cards carry cautions."""
    kerf = dice.choice((0, 22 * MM // 10, INCH // 8))
    if dice.random() < 0.5:
        return Shop(kerf=kerf)
    return Shop(
        kerf=kerf,
        rails=(Rail(length=1400 * MM, joined=2, count=2),),
        guide=Span(least=150 * MM, most=610 * MM),
        carry=100 * MM,
        hold=200 * MM,
        table=TableSaw(kerf=INCH // 8, fence=Span(least=0, most=610 * MM)),
    )


@lru_cache(maxsize=32)
def matter(seed: int) -> Matter:
    """Return the random job of that number with its first plan; what lies nowhere is named."""
    job = random_job(seed)
    plan = run(job, Budget(time_s=0.0), lambda _: None)
    assert plan is not None
    return matter_of(job, plan, waiting=tuple(unplaced_sentences(plan)))


@lru_cache(maxsize=8)
def pages(seed: int, paper: Paper) -> tuple[Page, ...]:
    """Return all pages of the pack and of the labels."""
    return pack_pages(matter(seed), ExportWish(paper=paper))
