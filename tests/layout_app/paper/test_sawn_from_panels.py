"""Whole jobs are sawn again from the words of the panels, in three kinds of shops."""

import re
from dataclasses import replace
from functools import lru_cache

import pytest

from layout_app.paper.matter import Matter, matter_of
from shared.job import Job
from shared.lengths import MM, LengthStyle, Unit, parse_length
from shared.parts import GrainRule, Part
from shared.practice import running_on, usual, usual_table
from shared.shop import RunsOn, Shop, Span
from shared.stock import SheetGrain, Stock, Trims
from solver.budget.stop import Budget
from solver.run import run
from tests.layout_app.paper.panel_reader import how_to_read, panels_in_words, sayings_of
from tests.layout_app.paper.reader import reader_of

PLY, BOARD = "18 birch", "12 board"
ROWS = (
    ("Bunk side", 2, 1960, 320, PLY, True),
    ("Bunk end", 2, 880, 320, PLY, True),
    ("Ladder rail", 2, 1500, 95, PLY, False),
    ("Ladder tread", 4, 400, 110, PLY, False),
    ("Wall side", 2, 1800, 280, PLY, False),
    ("Wall shelf", 5, 780, 270, PLY, False),
    ("Desk top", 1, 1180, 560, PLY, True),
    ("Slat bearer", 2, 1900, 60, PLY, False),
    ("Slat", 12, 600, 45, PLY, False),
    ("Door", 2, 600, 385, BOARD, True),
    ("Back panel", 2, 1780, 400, BOARD, False),
    ("Drawer base", 3, 430, 360, BOARD, False),
    ("Divider", 4, 250, 220, BOARD, False),
)
"""A reading loft for two children: name, copies, L, W in mm, material, whether the face shows.

Doors and the desk top are finished at the table saw, where there is one and its fence reaches.
"""
FINISHED = {"Door", "Desk top"}


def loft(shop: Shop, unit: Unit) -> Job:
    """Return the job in a shop."""
    parts = (
        Part(
            id=name,
            name=name,
            copies=copies,
            length=length * MM,
            width=width * MM,
            material=material,
            grain_rule=GrainRule.ALONG_LENGTH if material == PLY else GrainRule.EITHER,
            show=show,
            oversize=6 * MM if shop.table is not None and name in FINISHED else 0,
        )
        for name, copies, length, width, material, show in ROWS
    )
    stock = (
        Stock(
            id=material,
            name=material,
            material=material,
            length=2440 * MM,
            width=1220 * MM,
            thickness=thick * MM,
            density=680,
            grain=grain,
            trims=Trims(near=10 * MM, start=10 * MM),
        )
        for material, thick, grain in (
            (PLY, 18, SheetGrain.ALONG_L),
            (BOARD, 12, SheetGrain.NONE),
        )
    )
    style = LengthStyle(unit=unit, denominator=64, decimals=2)
    return Job(name="Reading loft", parts=tuple(parts), stock=tuple(stock), shop=shop, style=style)


def shop_of(name: str, unit: Unit) -> Shop:
    """Return the usual shop, or one with a table saw, or one without a rail."""
    shop = usual(unit)
    if name == "straightedge":
        return running_on(shop, RunsOn.STRAIGHTEDGE, unit)
    return shop if name == "rail" else replace(shop, table=usual_table(unit))


@lru_cache
def matter(name: str, unit: Unit) -> Matter:
    """Return the job with its first plan."""
    job = loft(shop_of(name, unit), unit)
    plan = run(job, Budget(time_s=0.0), lambda _: None)
    assert plan is not None
    assert not plan.unplaced
    return matter_of(job, plan)


@pytest.mark.parametrize(
    ("name", "unit"),
    [("rail", Unit.INCH), ("straightedge", Unit.MM), ("table saw", Unit.INCH)],
)
def test_every_part_comes_of_the_panels_alone(name: str, unit: Unit) -> None:
    """Counted and measured: all 43 parts, each as long and wide as the list asks for."""
    made = matter(name, unit)
    reader = reader_of(made)
    sayings = sayings_of(made)
    assert len(sayings) == len(made.plan.cuts) > 50
    for said in sayings:
        reader.saw(said)
    assert not reader.wanted_at
    wanted = {(row[0], max(row[2:4]), min(row[2:4])): row[1] for row in ROWS}
    assert reader.parts == wanted


EXPLAINED = {
    r"Mark \S.* off, at ": "Off: from the factory edge or end.",
    r"Mark \S.* at (both|the) ": "from the V",
    r"at the reference edge|square on the": "one mark there, and the line square from it",
    r"towards you": "Where the saw enters is towards you",
    r"bearers .*\+ 0": "+ 0: the waste strip drops",
    r"(rail|straightedge)s?( joined)?$": "stands out as far at both ends, if no figures are named",
    r"rail on it$": "rail on what you keep, its edge on the line",
    r", whole end": "Whole end: the cut clears the factory end all along.",
}
"""What panels say in brief, and the words of the reading page that tell what it means."""


@pytest.mark.parametrize("name", ["rail", "straightedge", "table saw"])
def test_what_panels_say_in_brief_is_explained(name: str) -> None:
    """Each short form that is used has its sentence; arrows of the drawings have theirs."""
    made = matter(name, Unit.INCH)
    page, used = " ".join(how_to_read(made)), set()
    for said in sayings_of(made):
        for text in (said.head, *said.bars, *said.facts):
            for short, told in EXPLAINED.items():
                if re.search(short, text):
                    used.add(short)
                    assert told in page, text
    assert len(used) > 5
    assert "The arrow at a number is where the saw enters." in page
    assert "down each column" in page


@pytest.mark.parametrize("name", ["rail", "straightedge", "table saw"])
def test_no_sentence_of_a_panel_is_longer_than_15_words(name: str) -> None:
    """A mixed number counts as one word; what stands between stops or points is a sentence."""
    made = matter(name, Unit.INCH)
    panels = panels_in_words(made)
    lines = [line for panel in panels for line in panel.common]
    lines += [line for panel in panels for row in panel.rows for line in row.lines]
    bars = [bar.more for panel in panels for bar in panel.bars]
    for text in (*(line.text for line in lines), *bars, *how_to_read(made)):
        figures = re.sub(r"\d+(,| to) (?=\d)", "", re.sub(r"\d+ \d+/\d+", "1", text))
        for sentence in re.split(r"(?<=[.;:\N{MIDDLE DOT}])\s", figures):
            assert len(sentence.split()) <= 15, sentence


def test_no_fence_is_set_to_what_it_does_not_reach() -> None:
    """A fence that goes to 400 mm only: doors of 600 are marked and sawn on a sled, of 385 not."""
    made = matter("table saw", Unit.MM)
    table = made.job.shop.table
    assert table is not None
    short = replace(made.job.shop, table=replace(table, fence=Span(most=400 * MM)))
    told = matter_of(replace(made.job, shop=short), made.plan).told
    doors = [
        (one.set_line, one.bed) for one in told if one.kind == "Finish" and "Door" in one.title
    ]
    long = [one for one in doors if "600" in one[0]]
    assert set(long) == {("Mark 600 at the reference edge", "on the sled, clear of the fence")}
    short_ways = [one for one in doors if one not in long]
    assert short_ways[0] == ("Set fence 385", "reference edge against the fence")
    assert {bed for _, bed in short_ways} == {"reference edge against the fence"}
    assert len(long) == len(short_ways) == len(doors) // 2
    reached = [parse_length(one.size, Unit.MM) for one in told if "fence" in one.set_line]
    assert reached
    assert max(reached) <= 400 * MM
