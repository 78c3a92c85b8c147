"""Three plans written out by hand, as a maker would on paper, for the saw to judge.

`SHELVES` is K1 and K7 of the kerf table and the total L1 in the workshop notes: 48 x 96 in,
kerf 1/8, four strips of 11-7/8, each cut into three of 31. `PANELS` is K12, K14 and L2:
2440 x 1220 mm, kerf 2.2, trims of 10 at the long and the short edge, two strips of 600, each
cut into three of 720. `MIXED` is our own: all four levels, exact and skim endings, turned
parts, and a sheet that is crosscut first with all trims; each figure in it is a sum of the
sizes and of one kerf of 3 mm between neighbours.

One line is one cut, placement or offcut; the columns are named above each table. Inches
are written ``11-7/8``, millimetres ``2.2``.
"""

from fractions import Fraction

from shared.parts import GrainRule
from shared.plan import (
    Cut,
    CutKind,
    Goal,
    Keep,
    MaterialProof,
    Offcut,
    Placement,
    Plan,
    PlanPart,
    PlanSheet,
    Proof,
    Unplaced,
)
from shared.stock import SheetGrain, Trims

TICKS_PER_INCH = 1_016_000
"""25.4 mm (international yard and pound agreement, 1959) in ticks of 25 nm."""
TICKS_PER_MM = 40_000


def ticks(text: str, unit: int) -> int:
    """Read a number such as ``11-7/8`` or ``2.2`` exactly."""
    exact = sum(Fraction(word) for word in text.split("-")) * unit
    assert exact.denominator == 1
    return int(exact)


def cuts(table: str, unit: int, tool: str, kerf: str) -> tuple[Cut, ...]:
    """Read lines of cuts; a trim's waste is named ``-``."""
    return tuple(_cut(line.split(), unit, tool, kerf) for line in table.strip().splitlines())


def _cut(words: list[str], unit: int, tool: str, kerf: str) -> Cut:
    number, sheet, level, kind, piece, off, keep, *figures, key = words
    x, y, length, width, running, size = (ticks(word, unit) for word in figures)
    return Cut(
        number=int(number),
        sheet=sheet,
        kind=CutKind(kind.replace("_", " ")),
        level=int(level),
        tool=tool,
        kerf=ticks(kerf, unit),
        x=x,
        y=y,
        length=length,
        width=width,
        piece=piece,
        off="" if off == "-" else off,
        setup=key,
        running=running,
        size=size,
        keep=Keep(keep),
    )


def placements(table: str, unit: int) -> tuple[Placement, ...]:
    """Read lines of placements; the last column of a turned one says ``turned``."""
    return tuple(_placement(line.split(), unit) for line in table.strip().splitlines())


def _placement(words: list[str], unit: int) -> Placement:
    part, copy, sheet, *figures, lies = words
    x, y, length, width = (ticks(word, unit) for word in figures)
    return Placement(
        part=part,
        copy=int(copy),
        sheet=sheet,
        x=x,
        y=y,
        length=length,
        width=width,
        turned=lies == "turned",
    )


def offcuts(table: str, unit: int) -> tuple[Offcut, ...]:
    """Read lines of offcuts."""
    return tuple(_offcut(line.split(), unit) for line in table.strip().splitlines())


def _offcut(words: list[str], unit: int) -> Offcut:
    sheet, piece, *figures, keep = words
    x, y, length, width = (ticks(word, unit) for word in figures)
    return Offcut(
        sheet=sheet, piece=piece, x=x, y=y, length=length, width=width, keep=keep == "keep"
    )


def part(words: str, unit: int, copies: int, material: str, rule: GrainRule) -> PlanPart:
    """Make a part from its id, name, cut length and cut width."""
    part_id, name, length, width = words.split()
    return PlanPart(
        id=part_id,
        name=name,
        length=ticks(length, unit),
        width=ticks(width, unit),
        copies=copies,
        material=material,
        grain_rule=rule,
    )


def fewest(sheets: int, *materials: tuple[str, int]) -> Proof:
    """Make a proof that no plan takes fewer sheets."""
    return Proof(
        goal=Goal.FEWEST_SHEETS,
        value=sheets,
        bound=sheets,
        proven=True,
        rule="rip first, three levels and a last trim",
        materials=tuple(
            MaterialProof(
                material=name, goal=Goal.FEWEST_SHEETS, value=count, bound=count, proven=True
            )
            for name, count in materials
        ),
    )


SHELVES = Plan(
    name="Twelve shelves",
    parts=(part("shelf Shelf 31 11-7/8", TICKS_PER_INCH, 12, "ply", GrainRule.ALONG_LENGTH),),
    sheets=(
        PlanSheet(
            id="1",
            stock="full",
            name="Full sheet",
            material="ply",
            thickness=TICKS_PER_INCH * 3 // 4,
            length=96 * TICKS_PER_INCH,
            width=48 * TICKS_PER_INCH,
            grain=SheetGrain.ALONG_L,
            trims=Trims(),
        ),
    ),
    # part copy sheet x y length width lies
    placements=placements(
        """
        shelf  1 1  0      0 31 11-7/8 straight
        shelf  2 1 31-1/8  0 31 11-7/8 straight
        shelf  3 1 62-1/4  0 31 11-7/8 straight
        shelf  4 1  0     12 31 11-7/8 straight
        shelf  5 1 31-1/8 12 31 11-7/8 straight
        shelf  6 1 62-1/4 12 31 11-7/8 straight
        shelf  7 1  0     24 31 11-7/8 straight
        shelf  8 1 31-1/8 24 31 11-7/8 straight
        shelf  9 1 62-1/4 24 31 11-7/8 straight
        shelf 10 1  0     36 31 11-7/8 straight
        shelf 11 1 31-1/8 36 31 11-7/8 straight
        shelf 12 1 62-1/4 36 31 11-7/8 straight
        """,
        TICKS_PER_INCH,
    ),
    # number sheet level kind piece off keep | x y length width of the dust | running size | set-up
    cuts=cuts(
        """
         1 1 1 rip      1  1a  near  0     11-7/8 96  1/8    11-7/8 11-7/8 A
         2 1 1 rip      1  1b  near  0     23-7/8 96  1/8    23-7/8 11-7/8 A
         3 1 1 rip      1  1c  near  0     35-7/8 96  1/8    35-7/8 11-7/8 A
         4 1 1 rip      1  1d  near  0     47-7/8 96  1/8    47-7/8 11-7/8 A
         5 1 2 crosscut 1a 1a1 near 31      0     1/8 11-7/8 31     31     B
         6 1 2 crosscut 1a 1a2 near 62-1/8  0     1/8 11-7/8 62-1/8 31     B
         7 1 2 crosscut 1a 1a3 near 93-1/4  0     1/8 11-7/8 93-1/4 31     B
         8 1 2 crosscut 1b 1b1 near 31     12     1/8 11-7/8 31     31     B
         9 1 2 crosscut 1b 1b2 near 62-1/8 12     1/8 11-7/8 62-1/8 31     B
        10 1 2 crosscut 1b 1b3 near 93-1/4 12     1/8 11-7/8 93-1/4 31     B
        11 1 2 crosscut 1c 1c1 near 31     24     1/8 11-7/8 31     31     B
        12 1 2 crosscut 1c 1c2 near 62-1/8 24     1/8 11-7/8 62-1/8 31     B
        13 1 2 crosscut 1c 1c3 near 93-1/4 24     1/8 11-7/8 93-1/4 31     B
        14 1 2 crosscut 1d 1d1 near 31     36     1/8 11-7/8 31     31     B
        15 1 2 crosscut 1d 1d2 near 62-1/8 36     1/8 11-7/8 62-1/8 31     B
        16 1 2 crosscut 1d 1d3 near 93-1/4 36     1/8 11-7/8 93-1/4 31     B
        """,
        TICKS_PER_INCH,
        "table saw",
        "1/8",
    ),
    # sheet piece x y length width worth keeping
    offcuts=offcuts(
        """
        1 1a 93-3/8  0 2-5/8 11-7/8 no
        1 1b 93-3/8 12 2-5/8 11-7/8 no
        1 1c 93-3/8 24 2-5/8 11-7/8 no
        1 1d 93-3/8 36 2-5/8 11-7/8 no
        """,
        TICKS_PER_INCH,
    ),
    proof=fewest(1, ("ply", 1)),
)

PANELS = Plan(
    name="Six panels",
    parts=(part("panel Panel 720 600", TICKS_PER_MM, 6, "chipboard", GrainRule.ALONG_LENGTH),),
    sheets=(
        PlanSheet(
            id="1",
            stock="full",
            name="Full sheet",
            material="chipboard",
            thickness=18 * TICKS_PER_MM,
            length=2440 * TICKS_PER_MM,
            width=1220 * TICKS_PER_MM,
            grain=SheetGrain.ALONG_L,
            trims=Trims(near=10 * TICKS_PER_MM, start=10 * TICKS_PER_MM),
        ),
    ),
    placements=placements(
        """
        panel 1 1   10    10   720 600 straight
        panel 2 1  732.2  10   720 600 straight
        panel 3 1 1454.4  10   720 600 straight
        panel 4 1   10   612.2 720 600 straight
        panel 5 1  732.2 612.2 720 600 straight
        panel 6 1 1454.4 612.2 720 600 straight
        """,
        TICKS_PER_MM,
    ),
    cuts=cuts(
        """
         1 1 1 trim     1  -   far     0      7.8 2440   2.2    0    10 T
         2 1 1 rip      1  1a  near    0    610   2440   2.2  600   600 R
         3 1 1 rip      1  1b  near    0   1212.2 2440   2.2 1202.2 600 R
         4 1 2 trim     1a -   far     7.8   10   2.2  600     0    10 T
         5 1 2 crosscut 1a 1a1 near  730     10   2.2  600   720   720 C
         6 1 2 crosscut 1a 1a2 near 1452.2   10   2.2  600  1442.2 720 C
         7 1 2 crosscut 1a 1a3 near 2174.4   10   2.2  600  2164.4 720 C
         8 1 2 trim     1b -   far     7.8  612.2 2.2  600     0    10 T
         9 1 2 crosscut 1b 1b1 near  730    612.2 2.2  600   720   720 C
        10 1 2 crosscut 1b 1b2 near 1452.2  612.2 2.2  600  1442.2 720 C
        11 1 2 crosscut 1b 1b3 near 2174.4  612.2 2.2  600  2164.4 720 C
        """,
        TICKS_PER_MM,
        "track saw",
        "2.2",
    ),
    offcuts=offcuts(
        """
        1 1    0   1214.4 2440   5.6 no
        1 1a 2176.6  10  263.4 600   keep
        1 1b 2176.6 612.2 263.4 600  keep
        """,
        TICKS_PER_MM,
    ),
    proof=fewest(1, ("chipboard", 1)),
)

_BOARD, _OAK = "board", "oak"
MIXED = Plan(
    name="All that can happen",
    parts=(
        part("p Door 400 98", TICKS_PER_MM, 1, _BOARD, GrainRule.ALONG_WIDTH),
        part("q Rail 380 99", TICKS_PER_MM, 1, _BOARD, GrainRule.EITHER),
        part("r Back 595 200", TICKS_PER_MM, 1, _BOARD, GrainRule.ALONG_LENGTH),
        part("s Top 297 500", TICKS_PER_MM, 1, _BOARD, GrainRule.ALONG_LENGTH),
        part("t Side 300 200", TICKS_PER_MM, 1, _OAK, GrainRule.ALONG_LENGTH),
        part("u Seat 385 385", TICKS_PER_MM, 1, _OAK, GrainRule.ALONG_WIDTH),
        part("v Bench 900 300", TICKS_PER_MM, 2, _OAK, GrainRule.ALONG_LENGTH),
    ),
    sheets=(
        PlanSheet(
            id="1",
            stock="board",
            name="Board",
            material=_BOARD,
            thickness=16 * TICKS_PER_MM,
            length=1000 * TICKS_PER_MM,
            width=500 * TICKS_PER_MM,
            grain=SheetGrain.NONE,
            trims=Trims(),
            price=2150,
        ),
        PlanSheet(
            id="2",
            stock="oak",
            name="Oak offcut",
            material=_OAK,
            thickness=20 * TICKS_PER_MM,
            length=600 * TICKS_PER_MM,
            width=400 * TICKS_PER_MM,
            grain=SheetGrain.ALONG_W,
            trims=Trims(near=10 * TICKS_PER_MM, far=5 * TICKS_PER_MM, start=12 * TICKS_PER_MM),
        ),
    ),
    placements=placements(
        """
        p 1 1   0   0 400  98 straight
        q 1 1   0 101 380  99 straight
        r 1 1 403   0 595 200 straight
        s 1 1   0 203 500 297 turned
        t 1 2  12  10 200 300 turned
        u 1 2 215  10 385 385 straight
        """,
        TICKS_PER_MM,
    ),
    cuts=cuts(
        """
         1 1 1 rip       1   1a   near   0 200 1000   3 200 200 1:200
         2 1 2 crosscut  1a  1a1  near 400   0    3 200 400 400 2:400
         3 1 2 crosscut  1a  1a2  near 998   0    2 200 998 595 2:595
         4 1 3 rip       1a1 1a1a near   0  98  400   3  98  98 3:98
         5 1 4 last_trim 1a1 1a1b near 380 101    3  99 380 380 4:380
         6 1 2 crosscut  1   1b   near 500 203    3 297 500 500 2:500
         7 2 1 trim      2   -    far    9   0    3 400   0  12 t12
         8 2 1 crosscut  2   2a   near 212   0    3 400 200 200 1:200
         9 2 2 trim      2a  -    far   12   7  200   3   0  10 t10
        10 2 2 rip       2a  2a1  near  12 310  200   3 300 300 2:300
        11 2 2 trim      2   -    far  215   7  385   3   0  10 t10
        12 2 2 rip       2   2b   near 215 395  385   3 385 385 2:385
        """,
        TICKS_PER_MM,
        "track saw",
        "3",
    ),
    offcuts=offcuts(
        """
        1 1a1 383 101  17  99 no
        1 1   503 203 497 297 keep
        2 2a   12 313 200  87 no
        2 2   215 398 385   2 no
        """,
        TICKS_PER_MM,
    ),
    proof=Proof(
        goal=Goal.LEAST_PRICE,
        value=2150,
        bound=2150,
        proven=False,
        rule="either first, three levels and a last trim",
        materials=(
            MaterialProof(
                material=_BOARD, goal=Goal.LEAST_PRICE, value=2150, bound=2150, proven=True
            ),
            MaterialProof(material=_OAK, goal=Goal.FEWEST_SHEETS, value=1, bound=2, proven=False),
        ),
    ),
    unplaced=(Unplaced(part="v", copies=2, need="a sheet of oak, L 900 or more"),),
)

ALL = {"shelves": SHELVES, "panels": PANELS, "mixed": MIXED}
