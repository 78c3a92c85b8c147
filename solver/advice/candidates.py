"""Changes worth a try, in order of promise: ladders of rungs from gentle to strong."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from shared.changes import Change, ChangeKind, PartSide, SheetEdge, step_of, trim_of
from shared.groups import names
from shared.lengths import INCH, MM, Length, Unit
from shared.parts import GrainRule, Part
from shared.stock import SheetGrain, Stock
from solver.advice.ground import PlannedMaterial
from solver.advice.worths import Worths

MOST_OF_A_SIDE = 10
"""A part that loses more than one of so many parts of a side is another part."""
TURNING = 0.1
"""Share of what a part counts that turning it may save; only sorts."""
THINNEST_KERF = {Unit.MM: 16 * MM // 10, Unit.INCH: INCH // 16}
"""The thinnest of usual blades for hand-held circular saws (common practice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ladder:
    """Changes of one thing: each saves at least what those before it save.

    Attributes
    ----------
    rungs
        From gentle to strong.
    step
        Ticks between two rungs; 0 where they are no amounts.
    most
        What the strongest saves at most, by what the part counts in the proof.
    promise
        Estimate of what it saves; only sorts.
    """

    rungs: tuple[Change, ...]
    step: Length = 0
    most: float = math.inf
    promise: float = 0.0


def ladders(ground: PlannedMaterial, worths: Worths, up_to: Length) -> list[Ladder]:
    """Return all changes, the most promising first; what changes no part comes before.

    Parameters
    ----------
    up_to
        How much shorter a part may get, in ticks.
    """
    parts = _free_parts(ground, worths)
    of_parts = [
        *(ladder for part in parts for ladder in _turns(ground, part, worths)),
        *(ladder for part in parts for ladder in _shorter(ground, part, worths, up_to)),
        *(ladder for part in parts for ladder in _fewer(ground, part, worths)),
    ]
    of_parts.sort(key=lambda ladder: -ladder.promise)
    return [*_trims(ground), *_kerfs(ground), *of_parts]


def _free_parts(ground: PlannedMaterial, worths: Worths) -> list[Part]:
    """Return parts that are planned, and of which no copy is yours or held.

    A part of a match group is not free: changed by itself it would not suit its neighbours.
    """
    planned = worths.copies.keys() - ground.fixed_parts
    matched = names(ground.job)
    return [part for part in ground.job.parts if part.id in planned and part.group not in matched]


def _all_of(part: Part, worths: Worths) -> float:
    """Return what all copies count: whatever is changed of a part saves no more."""
    return worths.price[part.id] * worths.copies[part.id]


def _trims(ground: PlannedMaterial) -> Iterator[Ladder]:
    """Yield a ladder for the trims across each row, for those along it, and for all."""
    rows = {row.stock for row in ground.instance.rows} - ground.fixed_rows
    for row in ground.job.stock:
        if row.id in rows:
            across, along = (
                _edges(row, (SheetEdge.FAR, SheetEdge.NEAR)),
                _edges(row, (SheetEdge.END, SheetEdge.START)),
            )
            for edges in (across, along):
                if edges:
                    yield _untrimmed(row, [edges[: n + 1] for n in range(len(edges))])
            if across and along:
                yield _untrimmed(row, [across + along])


def _edges(row: Stock, edges: tuple[SheetEdge, ...]) -> tuple[SheetEdge, ...]:
    """Return those of the edges that need not be trimmed but are, the narrowest trim first."""
    squaring = (SheetEdge.START, SheetEdge.END) if row.diagonals else ()
    trimmed = [edge for edge in edges if trim_of(row.trims, edge) and edge not in squaring]
    return tuple(sorted(trimmed, key=lambda edge: trim_of(row.trims, edge)))


def _untrimmed(row: Stock, choices: list[tuple[SheetEdge, ...]]) -> Ladder:
    rungs = tuple(
        Change(
            kind=ChangeKind.TRIM,
            stock=row.id,
            edges=edges,
            amount=sum(trim_of(row.trims, edge) for edge in edges),
        )
        for edges in choices
    )
    return Ladder(rungs=rungs)


def _kerfs(ground: PlannedMaterial) -> Iterator[Ladder]:
    """Yield thinner kerfs down to the thinnest usual one; fixed sheets keep theirs."""
    style, kerf = ground.job.style, ground.job.shop.kerf
    step = MM // 10 if style.unit is Unit.MM else INCH // 64
    thinnest = THINNEST_KERF[style.unit]
    amounts = [*range(kerf - step, thinnest, -step), thinnest]
    if kerf > thinnest and not ground.fixed_sheets:
        rungs = tuple(Change(kind=ChangeKind.KERF, amount=amount) for amount in amounts)
        yield Ladder(rungs=rungs, step=step)


def _turns(ground: PlannedMaterial, part: Part, worths: Worths) -> Iterator[Ladder]:
    has_grain = any(row.grain is not SheetGrain.NONE for row in ground.job.stock)
    if has_grain and part.grain_rule is not GrainRule.EITHER and part.cut_length != part.cut_width:
        rung, most = Change(kind=ChangeKind.TURN, part=part.id), _all_of(part, worths)
        yield Ladder(rungs=(rung,), most=most, promise=TURNING * most)


def _shorter(
    ground: PlannedMaterial, part: Part, worths: Worths, up_to: Length
) -> Iterator[Ladder]:
    step = step_of(ground.job.style)
    for side, size, sawn in (
        (PartSide.LENGTH, part.length, part.cut_length),
        (PartSide.WIDTH, part.width, part.cut_width),
    ):
        most = min(up_to, size // MOST_OF_A_SIDE, sawn - 1)
        amounts = [*range(step, most + 1, step)]
        if up_to == most and most % step:
            amounts.append(most)
        if amounts:
            rungs = tuple(
                Change(kind=ChangeKind.SHORTEN, part=part.id, side=side, amount=amount)
                for amount in amounts
            )
            counts = _all_of(part, worths)
            promise = counts * amounts[-1] / sawn
            yield Ladder(rungs=rungs, step=step, most=counts, promise=promise)


def _fewer(ground: PlannedMaterial, part: Part, worths: Worths) -> Iterator[Ladder]:
    """Yield the change to make one fewer, unless the last copy waits, or nothing else is left."""
    sent = {one.key for one in ground.settled.waiting if one.sent}
    alone = sum(worths.copies.values()) == 1
    if (part.id, part.copies) not in sent and not alone:
        price = worths.price[part.id]
        rung = Change(kind=ChangeKind.DROP, part=part.id)
        yield Ladder(rungs=(rung,), most=price, promise=price)
