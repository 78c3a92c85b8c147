"""Cuts are numbered, named and measured as the workshop does it."""

from dataclasses import replace
from fractions import Fraction
from typing import Any, NamedTuple

import pytest

from shared.cuts.naming import Names, letters
from shared.cuts.sequence import layout_sheet, saw_up
from shared.cuts.tally import tally
from shared.geometry import Rect
from shared.job import Job
from shared.layout import LayoutSheet
from shared.lengths import INCH, MM, Length
from shared.parts import Bands, Part
from shared.plan import CutKind, Keep, Offcut, Plan, Unplaced
from shared.shop import Axis, Shop
from shared.stock import Stock, Trims
from shared.tree import Piece, Place, Run, left_over


def inch(text: str) -> Length:
    """Read whole inches and a fraction such as ``11-7/8`` as ticks."""
    return int(sum(Fraction(word) for word in text.split("-")) * INCH)


def mm(text: str) -> Length:
    """Read decimal millimetres as ticks."""
    return int(Fraction(text) * MM)


def part(part_id: str, length: Length, width: Length, copies: int = 1) -> Part:
    """Return a part without bands of the only material."""
    return Part(id=part_id, name=part_id, length=length, width=width, copies=copies, material="ply")


def stock(length: Length, width: Length, trims: Trims | None = None) -> Stock:
    """Return a sheet of the only material."""
    return Stock(
        id="s",
        name="ply",
        material="ply",
        length=length,
        width=width,
        thickness=18 * MM,
        trims=trims or Trims(),
    )


def place(copy: int, part_id: str = "p", size: Length = 0) -> Piece:
    """Return a piece that is a copy of a part."""
    return Piece(size=size, place=Place(part=part_id, copy=copy))


def sawn(job: Job, *trees: Run) -> Plan:
    """Saw up sheets of the job's first stock row, one for each tree."""
    row, kerf = job.stock[0], job.shop.kerf
    sheets = [layout_sheet(str(n), row, kerf, tree) for n, tree in enumerate(trees, 1)]
    return saw_up(job, sheets)


# workshop.md, section 7, K1 to K14: sheet, strip, kerf, trim, number of strips, what is left
# beyond the last, and the offcut. K1 to K8 are inches, the others millimetres.
INCH_ROWS = [
    ("K1", "48", "11-7/8", "1/8", "0", 4, "1/8", "0"),
    ("K2", "48", "11-7/8", "1/8", "1/4", 3, "11-7/8", "11-3/4"),
    ("K3", "48", "11-3/4", "1/8", "1/4", 4, "3/8", "1/4"),
    ("K4", "48", "12", "1/8", "0", 3, "11-3/4", "11-5/8"),
    ("K5", "48", "11-7/8", "3/32", "0", 4, "7/32", "1/8"),
    ("K6", "48", "23-1/2", "1/8", "0", 2, "7/8", "3/4"),
    ("K7", "96", "31", "1/8", "0", 3, "2-3/4", "2-5/8"),
    ("K8", "49", "12", "1/8", "1/2", 4, "1/8", "0"),
]
MM_ROWS = [
    ("K9", "1220", "300", "2.2", "0", 4, "13.4", "11.2"),
    ("K10", "1220", "302", "3.2", "0", 4, "2.4", "0"),
    ("K11", "1220", "303", "3.2", "0", 3, "304.6", "301.4"),
    ("K12", "1220", "600", "2.2", "10", 2, "7.8", "5.6"),
    ("K13", "1220", "403", "3.2", "5", 2, "405.8", "402.6"),
    ("K14", "2440", "720", "2.2", "10", 3, "265.6", "263.4"),
]


class Row(NamedTuple):
    """One row of the table, in ticks."""

    width: Length
    strip: Length
    kerf: Length
    trim: Length
    n: int
    left: Length
    offcut: Length


def rows() -> list[Any]:
    """Return all rows in ticks, by the names they have in the table."""
    tables = [(inch, row) for row in INCH_ROWS] + [(mm, row) for row in MM_ROWS]
    return [
        pytest.param(
            Row(*(read(text) for text in row[1:5]), row[5], read(row[6]), read(row[7])), id=row[0]
        )
        for read, row in tables
    ]


@pytest.mark.parametrize("row", rows())
def test_kerf_table(row: Row) -> None:
    """The run of n strips ends as workshop.md, section 7, says, and one more does not fit."""
    width, strip, kerf, trim, n, left, offcut = row
    length = 1000 * MM
    job = Job(
        parts=(part("p", length, strip, n),),
        stock=(stock(length, width, Trims(near=trim)),),
        shop=Shop(kerf=kerf),
    )
    strips = tuple(place(copy, size=strip) for copy in range(1, n + 2))
    run = Run(axis=Axis.RIP, trim=trim, pieces=strips[:n])
    whole = Rect(x=0, y=0, length=length, width=width)
    assert left_over(run, whole, kerf) == left
    assert left_over(Run(axis=Axis.RIP, trim=trim, pieces=strips), whole, kerf) < 0

    plan = sawn(job, run)
    counts = tally(plan, job.shop)
    passes = n + (1 if trim else 0)
    assert [o.width for o in plan.offcuts] == ([offcut] if offcut else [])
    assert (counts.cuts, counts.skims) == (passes, 0 if offcut else 1)
    assert counts.counts.sawn == passes * length
    assert plan.cuts[-1].width == min(kerf, left)
    assert [cut.running for cut in plan.cuts if cut.kind is not CutKind.TRIM] == [
        i * strip + (i - 1) * kerf for i in range(1, n + 1)
    ]


def grid(part_id: str, rows: int, columns: int, size: tuple[Length, Length], trim: Length) -> Run:
    """Return rips into equal strips, each crosscut into equal parts, both ends trimmed."""
    copies = iter(range(1, rows * columns + 1))
    strips = [
        Run(
            axis=Axis.CROSSCUT,
            trim=trim,
            pieces=tuple(place(next(copies), part_id, size[0]) for _ in range(columns)),
        )
        for _ in range(rows)
    ]
    return Run(
        axis=Axis.RIP, trim=trim, pieces=tuple(Piece(size=size[1], run=run) for run in strips)
    )


def test_totals_l1() -> None:
    """Twelve parts 31 x 11-7/8 from 96 x 48 take the totals of workshop.md, section 7, L1."""
    job = Job(
        parts=(part("p", inch("31"), inch("11-7/8"), 12),),
        stock=(stock(inch("96"), inch("48")),),
        shop=Shop(kerf=inch("1/8")),
    )
    plan = sawn(job, grid("p", 4, 3, (inch("31"), inch("11-7/8")), 0))
    counts = tally(plan, job.shop)
    square = INCH * INCH
    falls = sum(Fraction(o.rect.area, square) for o in plan.offcuts)
    rips, crosscuts = (
        sum(Fraction(cut.rect.area, square) for cut in plan.cuts if cut.kind is kind)
        for kind in (CutKind.RIP, CutKind.CROSSCUT)
    )
    assert counts.counts.sawn == inch("526-1/2")
    assert (counts.cuts, counts.setups, counts.skims) == (16, 2, 1)
    assert Fraction(counts.part_area, square) == Fraction("4417.5")
    assert (rips, crosscuts) == (48, Fraction("17.8125"))
    assert falls == Fraction("124.6875")
    whole = Fraction(counts.part_area, square) + rips + crosscuts + falls
    assert whole == Fraction(counts.stock_area, square) == 4608
    assert round(counts.percent_used, 2) == 95.87


def test_totals_l2() -> None:
    """Two rips and six crosscuts, trimmed long and short, take the total of workshop.md L2."""
    job = Job(
        parts=(part("p", mm("720"), mm("600"), 6),),
        stock=(stock(mm("2440"), mm("1220"), Trims(near=mm("10"), start=mm("10"))),),
        shop=Shop(kerf=mm("2.2")),
    )
    plan = sawn(job, grid("p", 2, 3, (mm("720"), mm("600")), mm("10")))
    assert tally(plan, job.shop).counts.sawn == mm("12120")


def test_order_and_names() -> None:
    """Trim, rips, then strip by strip its start trim, crosscuts, block cuts and last trims."""
    kerf = 3 * MM
    blocks = Run(
        axis=Axis.RIP,
        pieces=(
            Piece(
                size=100 * MM,
                run=Run(axis=Axis.CROSSCUT, pieces=(place(1, "a", 150 * MM),)),
            ),
            place(1, "b", 97 * MM),
        ),
    )
    strip = Run(
        axis=Axis.CROSSCUT,
        trim=10 * MM,
        pieces=(Piece(size=200 * MM, run=blocks), place(1, "c", 300 * MM)),
    )
    tree = Run(
        axis=Axis.RIP,
        trim=8 * MM,
        pieces=(Piece(size=200 * MM, run=strip), place(1, "d", 50 * MM)),
    )
    job = Job(
        parts=(
            part("a", 150 * MM, 100 * MM),
            part("b", 200 * MM, 97 * MM),
            part("c", 300 * MM, 200 * MM),
            part("d", 1000 * MM, 50 * MM),
        ),
        stock=(stock(1000 * MM, 500 * MM, Trims(near=8 * MM, start=10 * MM)),),
        shop=Shop(kerf=kerf),
    )
    plan = sawn(job, tree)
    assert [(c.number, c.kind, c.level, c.piece, c.off) for c in plan.cuts] == [
        (1, CutKind.TRIM, 1, "1", ""),
        (2, CutKind.RIP, 1, "1", "1a"),
        (3, CutKind.RIP, 1, "1", "1b"),
        (4, CutKind.TRIM, 2, "1a", ""),
        (5, CutKind.CROSSCUT, 2, "1a", "1a1"),
        (6, CutKind.CROSSCUT, 2, "1a", "1a2"),
        (7, CutKind.RIP, 3, "1a1", "1a1a"),
        (8, CutKind.LAST_TRIM, 4, "1a1a", "1a1a1"),
    ]
    assert [c.setup for c in plan.cuts] == [
        f"trim:{8 * MM}",
        f"1:{200 * MM}",
        f"1:{50 * MM}",
        f"trim:{10 * MM}",
        f"2:{200 * MM}",
        f"2:{300 * MM}",
        f"3:{100 * MM}",
        f"4:{150 * MM}",
    ]
    # Running positions are measured from the trimmed edges, so a trim's own is nought.
    assert [c.running // MM for c in plan.cuts] == [0, 200, 253, 0, 200, 503, 100, 150]
    assert [c.keep for c in plan.cuts].count(Keep.FAR) == 2
    assert plan.cuts[0].rect == Rect(x=0, y=5 * MM, length=1000 * MM, width=kerf)
    assert plan.cuts[3].rect == Rect(x=7 * MM, y=8 * MM, length=kerf, width=200 * MM)
    assert [(o.piece, o.keep) for o in plan.offcuts] == [
        ("1", True),
        ("1a", True),
        ("1a1a", False),
    ]


def test_exact_ending_keeps_the_name() -> None:
    """The last piece of an exact run is what remains, and its blocks count on after the strips."""
    job = Job(
        parts=(part("a", 400 * MM, 97 * MM, 4),),
        stock=(stock(803 * MM, 197 * MM),),
        shop=Shop(kerf=3 * MM),
    )
    plan = sawn(job, grid("a", 2, 2, (400 * MM, 97 * MM), 0))
    assert [(c.piece, c.off) for c in plan.cuts] == [("1", "1a"), ("1a", "1a1"), ("1", "1b")]
    assert plan.offcuts == ()


def test_part_as_large_as_the_sheet() -> None:
    """A part of the sheet's size is placed without a cut."""
    job = Job(parts=(part("a", 800 * MM, 400 * MM),), stock=(stock(800 * MM, 400 * MM),))
    plan = sawn(job, Run(axis=Axis.RIP, pieces=(place(1, "a", 400 * MM),)))
    assert (len(plan.placements), plan.cuts, plan.offcuts) == (1, (), ())


def test_waste_between_pieces_and_what_is_kept() -> None:
    """A piece without part or run is an offcut, kept when both sides reach the shop's least."""
    job = Job(
        parts=(part("a", 800 * MM, 100 * MM, 2),),
        stock=(stock(800 * MM, 500 * MM),),
        shop=Shop(kerf=0, keep_length=300 * MM, keep_width=100 * MM),
    )
    pieces = (
        place(1, "a", 100 * MM),
        Piece(size=99 * MM),
        place(2, "a", 100 * MM),
        Piece(size=100 * MM),
    )
    plan = sawn(job, Run(axis=Axis.RIP, pieces=pieces))
    assert [(o.piece, o.width // MM, o.keep) for o in plan.offcuts] == [
        ("1b", 99, False),
        ("1d", 100, True),
        ("1", 101, True),
    ]


def test_cuts_count_on_over_sheets_and_share_set_ups() -> None:
    """Numbers run through all sheets; equal level and size is one set-up on all of them."""
    job = Job(
        parts=(part("a", 800 * MM, 100 * MM, 2),),
        stock=(stock(800 * MM, 300 * MM),),
        shop=Shop(kerf=3 * MM, cut_s=60, setup_s=30, skim_s=7),
    )
    runs = [Run(axis=Axis.RIP, pieces=(place(copy, "a", 100 * MM),)) for copy in (1, 2)]
    plan = sawn(job, *runs)
    counts = tally(plan, job.shop)
    assert [(c.number, c.sheet, c.off) for c in plan.cuts] == [(1, "1", "1a"), (2, "2", "2a")]
    assert (counts.setups, counts.setup_changes, counts.seconds, counts.minutes) == (1, 0, 150, 3)


def test_a_rip_and_a_crosscut_of_one_size_are_two_settings() -> None:
    """400 at the guide and 400 at the stop: what holds the size has to be set anew."""
    job = Job(
        parts=(part("a", 400 * MM, 400 * MM, 1),),
        stock=(stock(800 * MM, 600 * MM),),
        shop=Shop(kerf=3 * MM),
    )
    block = Run(axis=Axis.CROSSCUT, pieces=(place(1, "a", 400 * MM),))
    plan = sawn(job, Run(axis=Axis.RIP, pieces=(Piece(size=400 * MM, run=block),)))
    assert [(cut.kind, cut.size) for cut in plan.cuts] == [
        (CutKind.RIP, 400 * MM),
        (CutKind.CROSSCUT, 400 * MM),
    ]
    assert tally(plan, job.shop).setup_changes == 1


def test_sheets_without_tree_leave_copies_waiting() -> None:
    """Every copy is placed once or counted among those that are not."""
    job = Job(
        parts=(part("a", 800 * MM, 100 * MM, 5), part("b", 900 * MM, 100 * MM, 2)),
        stock=(stock(800 * MM, 300 * MM),),
        shop=Shop(kerf=3 * MM),
    )
    good = layout_sheet(
        "1", job.stock[0], 3 * MM, Run(axis=Axis.RIP, pieces=(place(1, "a", 100 * MM),))
    )
    bad = LayoutSheet(id="2", stock="s", placements=good.placements)
    known = (Unplaced(part="b", copies=2, need="a longer sheet"),)
    plan = saw_up(job, [bad, good], unplaced=known)
    assert [sheet.id for sheet in plan.sheets] == ["1"]
    assert plan.unplaced == (*known, Unplaced(part="a", copies=4, need="not planned yet"))


def test_parts_of_the_plan_have_their_cut_size() -> None:
    """Bands are taken off before the saw is told."""
    banded = Part(
        id="a",
        name="front",
        length=100 * MM,
        width=50 * MM,
        material="ply",
        bands=Bands(top=MM, bottom=MM, left=2 * MM),
    )
    (seen,) = saw_up(Job(parts=(banded,)), []).parts
    assert (seen.length, seen.width) == (98 * MM, 48 * MM)


def test_letters_go_on_after_z() -> None:
    """The 26th label is z, then come aa, az, ba; zz is the 702nd, as in any spreadsheet."""
    assert [letters(n) for n in (1, 26, 27, 52, 53, 702, 703)] == [
        "a",
        "z",
        "aa",
        "az",
        "ba",
        "zz",
        "aaa",
    ]


def test_names_alternate_letters_and_digits() -> None:
    """A name that ends in a digit takes letters, one that ends in a letter digits."""
    names = Names()
    assert [names.off(p) for p in ("1", "1", "1a", "1a", "1a1", "12")] == [
        "1a",
        "1b",
        "1a1",
        "1a2",
        "1a1a",
        "12a",
    ]


def test_offcut_lies_behind_the_last_kerf() -> None:
    """The fall begins one kerf beyond the last piece."""
    job = Job(
        parts=(part("a", 800 * MM, 100 * MM),),
        stock=(stock(800 * MM, 300 * MM),),
        shop=Shop(kerf=3 * MM),
    )
    plan = sawn(job, Run(axis=Axis.RIP, pieces=(place(1, "a", 100 * MM),)))
    assert plan.offcuts == (
        Offcut(
            sheet="1",
            piece="1",
            x=0,
            y=103 * MM,
            length=800 * MM,
            width=197 * MM,
            keep=True,
        ),
    )


def test_a_piece_on_hand_costs_nothing() -> None:
    """What a sheet has left is sawn without a price, though sheets of its material have one."""
    whole = replace(stock(800 * MM, 300 * MM), id="whole", price=5200, at_hand=None)
    piece = replace(whole, id="piece 1a", price=None, at_hand=1, piece="1a", width=250 * MM)
    job = Job(parts=(part("a", 800 * MM, 100 * MM),), stock=(whole, piece), shop=Shop(kerf=3 * MM))
    tree = Run(axis=Axis.RIP, pieces=(place(1, "a", 100 * MM),))
    [sheet] = saw_up(job, [LayoutSheet(id="1a", stock="piece 1a", tree=tree)]).sheets
    assert (sheet.piece, sheet.price, sheet.cost) == (True, 0, 0)
