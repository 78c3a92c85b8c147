"""A small plan written out by hand: 20 × 10 in, two strips, three parts, six cuts.

Eighths of an inch throughout; kerf 1/8, near trim 1/4. Every figure below is sums of
the sizes, one kerf between neighbours:

    y: 2 | 1a 32 | 1 | 1b 24 | 1 | fall 20      x in 1a: A 64 | 1 | A 64 | 1 | fall 30
                                                x in 1b: B 96 | 1 | fall 63
"""

from shared.lengths import INCH
from shared.parts import GrainRule
from shared.plan import Cut, CutKind, Keep, Offcut, Placement, Plan, PlanPart, PlanSheet
from shared.shop import Axis, CutRule, Shop
from shared.stock import SheetGrain, Trims
from shared.tree import Piece, Place, Run

E = INCH // 8
A = PlanPart(
    id="a",
    name="Rail",
    length=64 * E,
    width=32 * E,
    copies=2,
    material="3/4 birch ply",
    grain_rule=GrainRule.ALONG_LENGTH,
)
B = PlanPart(
    id="b",
    name="Shelf",
    length=96 * E,
    width=24 * E,
    copies=1,
    material="3/4 birch ply",
    grain_rule=GrainRule.ALONG_LENGTH,
)


def _part(part: PlanPart, copy: int) -> Piece:
    return Piece(size=part.length, place=Place(part=part.id, copy=copy))


TREE = Run(
    axis=Axis.RIP,
    trim=2 * E,
    pieces=(
        Piece(size=32 * E, run=Run(axis=Axis.CROSSCUT, pieces=(_part(A, 1), _part(A, 2)))),
        Piece(size=24 * E, run=Run(axis=Axis.CROSSCUT, pieces=(_part(B, 1),))),
    ),
)
SHEET = PlanSheet(
    id="1",
    stock="s",
    name="3/4 birch ply",
    material="3/4 birch ply",
    thickness=6 * E,
    length=160 * E,
    width=80 * E,
    grain=SheetGrain.ALONG_L,
    trims=Trims(near=2 * E),
    price=5200,
    cost=5200,
    tree=TREE,
)


def _placement(part: PlanPart, copy: int, x: int, y: int) -> Placement:
    return Placement(
        part=part.id,
        copy=copy,
        sheet="1",
        x=x * E,
        y=y * E,
        length=part.length,
        width=part.width,
    )


def _cut(
    number: int,
    dust: tuple[int, int, int, int],
    pieces: tuple[str, str],
    figures: tuple[int, int],
    level: int,
) -> Cut:
    x, y, length, width = (side * E for side in dust)
    running, size = figures
    trim = not pieces[1]
    kind = CutKind.TRIM if trim else (CutKind.RIP if level == 1 else CutKind.CROSSCUT)
    return Cut(
        number=number,
        sheet="1",
        kind=kind,
        level=level,
        tool="track saw",
        kerf=E,
        x=x,
        y=y,
        length=length,
        width=width,
        piece=pieces[0],
        off=pieces[1],
        setup=f"trim:{size * E}" if trim else f"{level}:{size * E}",
        running=running * E,
        size=size * E,
        keep=Keep.FAR if trim else Keep.NEAR,
    )


def _offcut(piece: str, x: int, y: int, size: tuple[int, int], *, keep: bool) -> Offcut:
    length, width = size
    return Offcut(
        sheet="1", piece=piece, x=x * E, y=y * E, length=length * E, width=width * E, keep=keep
    )


PLAN = Plan(
    name="Small plan",
    parts=(A, B),
    sheets=(SHEET,),
    placements=(_placement(A, 1, 0, 2), _placement(A, 2, 65, 2), _placement(B, 1, 0, 35)),
    cuts=(
        _cut(1, (0, 1, 160, 1), ("1", ""), (0, 2), 1),
        _cut(2, (0, 34, 160, 1), ("1", "1a"), (32, 32), 1),
        _cut(3, (0, 59, 160, 1), ("1", "1b"), (57, 24), 1),
        _cut(4, (64, 2, 1, 32), ("1a", "1a1"), (64, 64), 2),
        _cut(5, (129, 2, 1, 32), ("1a", "1a2"), (129, 64), 2),
        _cut(6, (96, 35, 1, 24), ("1b", "1b1"), (96, 96), 2),
    ),
    offcuts=(
        _offcut("1a", 130, 2, (30, 32), keep=False),
        _offcut("1b", 97, 35, (63, 24), keep=True),
        _offcut("1", 0, 60, (160, 20), keep=True),
    ),
    shop=Shop(kerf=E, keep_length=60 * E, keep_width=20 * E),
    rule=CutRule(),
)
