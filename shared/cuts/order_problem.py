"""The order of cuts as a problem in bare numbers: colours, what comes first, what lies about.

A pass has the colour of its setting. A piece is loose from the pass that makes it (a sheet:
its own first pass) until its own last pass; what needs no more cuts is stacked away. Sets of
passes are whole numbers, one bit for each.

Within a run the passes may come in any order, because its pieces may lie in any order: only
a trim comes first, and what a board too heavy to turn is sawn into near its middle. Not so where
pieces have to stay where they lie, or where the saw's limits ask for the largest piece at the end.
"""

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import reduce
from itertools import pairwise
from operator import or_

from shared.cuts.forest import Forest, Pass, PieceRun
from shared.cuts.pass_keys import copies_in
from shared.layout import CutBefore
from shared.plan import CutKind
from shared.tree import halves


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceToCut:
    """A piece that is cut further.

    ``passes`` are its own; ``maker`` is the pass it comes from, -1 for a sheet. ``area`` is
    in square ticks.
    """

    passes: int
    maker: int
    sheet: str
    area: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """Passes to be put in order.

    Attributes
    ----------
    made
        The passes; their place is what all else speaks of.
    colours
        Number of the setting of each; what is marked has one colour in common.
    before
        For each, the passes that have to come first.
    pieces, piece_of, opens
        All that is loose for a while; which of them a pass cuts; which it makes, or -1.
    limit
        Most pieces that may be loose at a time.
    start
        Passes that are made already.
    """

    made: tuple[Pass, ...]
    colours: tuple[int, ...]
    before: tuple[int, ...]
    pieces: tuple[PieceToCut, ...]
    piece_of: tuple[int, ...]
    opens: tuple[int, ...]
    limit: int
    start: int = 0

    @property
    def everything(self) -> int:
        """All passes."""
        return (1 << len(self.made)) - 1

    @property
    def ahead(self) -> int:
        """All passes that are not made yet."""
        return self.everything & ~self.start

    def loose(self, done: int) -> int:
        """Count the pieces that lie about once these passes are made."""
        return sum(self.is_loose(piece, done) for piece in self.pieces)

    @staticmethod
    def is_loose(piece: PieceToCut, done: int) -> bool:
        """Whether a piece is begun and not finished."""
        if not piece.passes & ~done:
            return False
        return bool(piece.passes & done) if piece.maker < 0 else bool(done >> piece.maker & 1)

    def change(self, done: int, number: int) -> int:
        """Return by how much a pass changes the number of loose pieces."""
        piece = self.pieces[self.piece_of[number]]
        begins = piece.maker < 0 and not piece.passes & done
        ends = not piece.passes & ~(done | 1 << number)
        return (self.opens[number] >= 0) + begins - ends


@dataclass(frozen=True, slots=True, kw_only=True)
class Wishes:
    """What an order has to respect besides what the saw can do.

    Attributes
    ----------
    limit
        Most loose pieces.
    fixed
        Sheets whose pieces stay where they lie.
    is_fixed
        Whether the pieces of a run stay where they lie, whatever the sheet.
    ends_with
        Which piece of a run, by place among all of them, has to be sawn off last, or
        ``None``.
    waiting
        Parts that wait for their mates to be built: what is sawn off for them alone comes last.
    before
        Hand-set order; what would make a circle is passed over.
    made
        Keys of the passes that are made already, in their order.
    """

    limit: int = 12
    fixed: frozenset[str] = frozenset()
    is_fixed: Callable[[PieceRun], bool] = field(default=lambda run: False)
    ends_with: Callable[[PieceRun], int | None] = field(default=lambda run: None)
    waiting: frozenset[str] = frozenset()
    before: tuple[CutBefore, ...] = ()
    made: tuple[str, ...] = ()


def bits(some: int) -> Iterator[int]:
    """Yield the members of a set of passes, least first."""
    while some:
        least = some & -some
        yield least.bit_length() - 1
        some ^= least


def problem_of(forest: Forest, runs: Collection[int], wishes: Wishes) -> Problem:
    """Return the problem of some runs of a forest, with all that they come from among them."""
    made = tuple(one for index in sorted(runs) for one in forest.runs[index].passes)
    number = {one.key: place for place, one in enumerate(made)}
    colours: dict[object, int] = {}
    root = {index: _root(forest, runs, index) for index in runs}
    roots = sorted(set(root.values()))
    pieces = tuple(_piece(forest, number, root, index) for index in roots)
    before = _before(forest, runs, number, wishes)
    start = sum(1 << number[key] for key in wishes.made if key in number)
    if wishes.waiting:
        put_last(before, _for_waiting(forest, runs, number, wishes.waiting) & ~start)
    return Problem(
        made=made,
        colours=tuple(
            colours.setdefault(one.setting if one.is_set else None, len(colours)) for one in made
        ),
        before=tuple(with_wishes(before, number, wishes.before)),
        pieces=pieces,
        piece_of=tuple(roots.index(root[one.run]) for one in made),
        opens=tuple(-1 if one.opens not in root else roots.index(one.opens) for one in made),
        limit=wishes.limit,
        start=start,
    )


def without(problem: Problem, out: int) -> Problem:
    """Return a problem without some passes; what they needed, those that need them need.

    A pass that makes a piece has to stay, but where nobody asks what lies about.
    """
    numbers = tuple(bits(problem.everything & ~out))
    place = {number: at for at, number in enumerate(numbers)}

    def kept(some: int) -> int:
        return sum(1 << place[number] for number in bits(some & ~out))

    before = [problem.before[number] for number in numbers]
    for at, first in enumerate(before):
        needed = first
        while needed & out:
            more = (problem.before[number] for number in bits(needed & out))
            needed = reduce(or_, more, needed & ~out)
        before[at] = needed
    return replace(
        problem,
        made=tuple(problem.made[number] for number in numbers),
        colours=tuple(problem.colours[number] for number in numbers),
        before=tuple(map(kept, before)),
        pieces=tuple(
            replace(piece, passes=kept(piece.passes), maker=place.get(piece.maker, -1))
            for piece in problem.pieces
        ),
        piece_of=tuple(problem.piece_of[number] for number in numbers),
        opens=tuple(problem.opens[number] for number in numbers),
        start=kept(problem.start),
    )


def _root(forest: Forest, runs: Collection[int], index: int) -> int:
    """Return the first run over the piece that a run goes on with."""
    parent = forest.runs[index].parent
    while parent in runs and forest.runs[parent].goes_on == index:
        index, parent = parent, forest.runs[parent].parent
    return index


def _piece(
    forest: Forest, number: Mapping[str, int], root: Mapping[int, int], index: int
) -> PieceToCut:
    own = [run for run, first in root.items() if first == index]
    run = forest.runs[index]
    maker = -1
    if run.parent in root:
        opening = (one for one in forest.runs[run.parent].passes if one.opens == index)
        maker = next((number[one.key] for one in opening), -1)
    return PieceToCut(
        passes=sum(1 << number[one.key] for run in own for one in forest.runs[run].passes),
        maker=maker,
        sheet=run.sheet,
        area=run.rect.area,
    )


def _before(
    forest: Forest, runs: Collection[int], number: Mapping[str, int], wishes: Wishes
) -> list[int]:
    """Return for each pass what has to come right before it."""
    before = [0] * len(number)
    for index in runs:
        run = forest.runs[index]
        for key, needed in _within(run, number, wishes):
            before[number[key]] |= needed
        base = _makers(forest, runs, index, number)
        for one in run.passes:
            before[number[one.key]] |= base
    return before


def _makers(forest: Forest, runs: Collection[int], index: int, number: Mapping[str, int]) -> int:
    """Return the passes that a run's piece comes from."""
    run = forest.runs[index]
    if run.parent not in runs:
        return 0
    parent = forest.runs[run.parent]
    if parent.goes_on == index:
        return sum(1 << number[one.key] for one in parent.passes)
    return sum(1 << number[one.key] for one in parent.passes if one.opens == index)


def _within(run: PieceRun, number: Mapping[str, int], wishes: Wishes) -> Iterator[tuple[str, int]]:
    """Yield what has to come before which pass of the same run."""
    keys = [one.key for one in run.passes]
    if run.sheet in wishes.fixed or run.finishes or wishes.is_fixed(run):
        for one, other in pairwise(keys):
            yield other, 1 << number[one]
        return
    made = {key for key in keys if key in wishes.made}
    trims = [one.key for one in run.passes if one.kind is CutKind.TRIM]
    for place in range(len(trims), len(trims) + halves(run.run)):
        for key in keys[place + 1 :]:
            if key not in made:
                yield key, 1 << number[keys[place]]
    for key in keys:
        if key not in trims:
            yield key, sum(1 << number[trim] for trim in trims)
            if key not in made:
                yield key, sum(1 << number[one] for one in made)
    last = wishes.ends_with(run)
    if last is not None and last + len(trims) < len(keys):
        at_end = keys[last + len(trims)]
        yield at_end, sum(1 << number[key] for key in keys if key != at_end)


def _for_waiting(
    forest: Forest, runs: Collection[int], number: Mapping[str, int], waiting: frozenset[str]
) -> int:
    """Return the passes that are made for waiting parts alone."""
    found = 0
    for index in runs:
        run = forest.runs[index]
        off = iter(run.run.pieces)
        for one in run.passes:
            pieces = run.run.pieces if one.kind is CutKind.TRIM else (next(off),)
            parts = {part for piece in pieces for part, _ in copies_in(piece)}
            if parts and parts <= waiting:
                found |= 1 << number[one.key]
    return found


def put_last(before: list[int], late: int) -> None:
    """Let late passes come behind all others, except those that others need."""
    others = ((1 << len(before)) - 1) & ~late
    needed = 0
    for one in bits(others):
        needed |= ancestors(before, one)
    late &= ~needed
    for one in bits(late):
        before[one] |= ((1 << len(before)) - 1) & ~late


def with_wishes(
    before: Sequence[int], number: Mapping[str, int], wanted: Sequence[CutBefore]
) -> list[int]:
    """Add a hand-set order, wish after wish; one that contradicts the rest is left out."""
    added = list(before)
    for wish in wanted:
        one, other = number.get(wish.first), number.get(wish.then)
        if one is None or other is None or one == other:
            continue
        if not ancestors(added, one) >> other & 1:
            added[other] |= 1 << one
    return added


def ancestors(before: Sequence[int], number: int) -> int:
    """Return everything that has to come before a pass, at any remove."""
    found, ahead = 0, before[number]
    while ahead:
        found |= ahead
        beyond = 0
        for one in bits(ahead):
            beyond |= before[one]
        ahead = beyond & ~found
    return found


def stable(problem: Problem, order: Sequence[int]) -> list[int]:
    """Return passes in an order that respects what comes first, changed as little as can be."""
    rank = {number: place for place, number in enumerate(order)}
    done, made = 0, list[int]()
    while len(made) < len(order):
        ready = (n for n in order if not done >> n & 1 and not problem.before[n] & ~done)
        number = min(ready, key=lambda n: rank[n])
        done |= 1 << number
        made.append(number)
    return made
