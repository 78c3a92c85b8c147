"""The shop's limits in the compact model: what can be reached, carried and held.

The same rules as `solver.limits.cut_run`, as constraints on every piece that is cut.
"""

from collections.abc import Sequence
from itertools import combinations
from typing import NamedTuple

from solver.proof.compact.pieces import Pairs, Pieces
from solver.proof.stoppable import Variable


class PieceCuts(NamedTuple):
    """The cuts of one piece.

    Attributes
    ----------
    exists
        Whether there is such a piece.
    members
        For each piece that may be sawn off: whether it is, and its size.
    fall
        What lies behind the last one when all are sawn off.
    across
        How long the cuts are.
    free
        Whether a run that leaves nothing needs no last cut.
    trimmed
        Whether it begins with a trim.
    reached
        Whether rails reach over it in any case.
    beside
        Whether it is room beside what is held, whose last cut is not the piece's last.
    """

    exists: Variable
    members: Sequence[tuple[Variable, Variable]]
    fall: Variable
    across: Variable
    free: Variable = 1
    trimmed: Variable = 0
    reached: bool = False
    beside: Variable = 0


def keep_limits(pieces: Pieces) -> None:
    """Add the limits of the instance, if it has any, to a model."""
    if pieces.instance.limits.bind:
        _Limited(pieces).keep()


class _Limited:
    def __init__(self, pieces: Pieces) -> None:
        self._pieces = pieces
        self._model = pieces.model
        self._limits = pieces.instance.limits

    def keep(self) -> None:
        pieces = self._pieces
        for leader in range(pieces.count):
            self._keep(self._sheet(leader))
            self._keep(self._strip(leader))
            self._keep(self._block(leader))
            if pieces.instance.levels > 2:
                self._keep(self._trimmed(leader))

    def _of_kind(self, leader: int, figures: Sequence[int]) -> Variable:
        """Return the figure of the kind of sheet that a piece lies on."""
        return sum(n * self._pieces.on_kind[leader, k] for k, n in enumerate(figures))

    def _beside(self, leader: int) -> Variable:
        instance = self._pieces.instance
        return self._of_kind(leader, [instance.is_room(k) for k in range(len(instance.kinds))])

    def _members(self, pairs: Pairs, sizes: Sequence[Variable], leader: int) -> list[Variable]:
        count = self._pieces.count
        return [(pairs[m, leader], sizes[m]) for m in range(leader, count)]

    def _sheet(self, leader: int) -> PieceCuts:
        pieces, kinds = self._pieces, self._pieces.instance.kinds
        beyond = self._of_kind(leader, [kind.beyond_width for kind in kinds])
        return PieceCuts(
            pieces.in_sheet[leader, leader],
            self._members(pieces.in_sheet, pieces.width, leader),
            pieces.left_across[leader] + beyond,
            self._of_kind(leader, [kind.whole or kind.length for kind in kinds]),
            self._of_kind(leader, [kind.exact_width for kind in kinds]),
            self._of_kind(leader, [kind.sheet_trim for kind in kinds]),
            reached=True,
            beside=self._beside(leader),
        )

    def _strip(self, leader: int) -> PieceCuts:
        pieces, kinds = self._pieces, self._pieces.instance.kinds
        beyond = self._of_kind(leader, [kind.beyond_length for kind in kinds])
        return PieceCuts(
            pieces.in_strip[leader, leader],
            self._members(pieces.in_strip, pieces.length, leader),
            pieces.left_along[leader] + beyond,
            pieces.width[leader],
            self._of_kind(leader, [kind.exact_length for kind in kinds]),
            self._of_kind(leader, [kind.strip_trim for kind in kinds]),
            beside=self._beside(leader),
        )

    def _block(self, leader: int) -> PieceCuts:
        pieces = self._pieces
        widths = [pieces.extent(c, across=True) for c in range(pieces.count)]
        return PieceCuts(
            pieces.in_block[leader, leader],
            self._members(pieces.in_block, widths, leader),
            pieces.left_across_block(leader),
            pieces.length[leader],
        )

    def _trimmed(self, copy: int) -> PieceCuts:
        pieces = self._pieces
        members = [(1, pieces.extent(copy, across=False))]
        left = pieces.left_along_block(copy)
        return PieceCuts(1, members, left, pieces.extent(copy, across=True))

    def _keep(self, cut: PieceCuts) -> None:
        """Either no cut is made, or all limits are kept."""
        uncut = self._uncut(cut)
        reach, carry, hold = self._limits.reach, self._limits.carry, self._limits.hold
        if reach is not None and not cut.reached:
            self._model.add(cut.across <= reach).only_enforce_if(~uncut)
        if carry:
            rests = [self._at_least(size, carry, there) for there, size in cut.members]
            self._some([uncut, self._at_least(cut.fall, carry), *rests, *self._at_table(cut)])
        if hold:
            self._some([uncut, self._at_least(cut.across, hold), *self._held(cut, hold)])

    def _at_table(self, cut: PieceCuts) -> list[Variable]:
        """Return flags for what the table saw may take off the fall, at the last cut."""
        if not self._limits.fence:
            return []
        return [self._fenced(cut, size, there) for there, size in cut.members]

    def _fenced(self, cut: PieceCuts, size: Variable, there: Variable) -> Variable:
        """Return whether the fence takes one piece, and a rail the cut before."""
        flag, first = self._at_least(size, self._limits.fence, there), self._pieces.flag()
        self._where(cut, flag, cut.fall >= 1)
        self._where(cut, flag, cut.beside == 0)
        self._where(cut, first, sum(one for one, _ in cut.members) <= 1)
        self._where(cut, first, cut.trimmed == 0)
        together = self._at_least(size + cut.fall, self._limits.carry, there)
        self._model.add_bool_or([~flag, first, together])
        return flag

    def _uncut(self, cut: PieceCuts) -> Variable:
        """Return a flag that may be set only where no cut is made."""
        uncut = self._pieces.flag()
        if len(cut.members) > 1:
            self._where(cut, uncut, sum(there for there, _ in cut.members) <= 1)
        self._where(cut, uncut, cut.trimmed == 0)
        self._ends(cut, uncut)
        return uncut

    def _ends(self, cut: PieceCuts, flag: Variable) -> None:
        """Let a flag be set only where nothing is left of a piece, and no last cut made."""
        self._where(cut, flag, cut.fall == 0)
        self._where(cut, flag, cut.free == 1)

    def _where(self, cut: PieceCuts, flag: Variable, rule: Variable) -> None:
        """Let a flag be set of a piece that exists only where a rule holds."""
        flags = [flag] if isinstance(cut.exists, int) else [flag, cut.exists]
        self._model.add(rule).only_enforce_if(flags)

    def _held(self, cut: PieceCuts, hold: int) -> list[Variable]:
        """Return flags for what may be held at the last cut."""
        ones = [self._at_least(size + cut.fall, hold, there) for there, size in cut.members]
        pairs = [self._pair(cut, one, other, hold) for one, other in combinations(cut.members, 2)]
        return [*ones, *pairs]

    def _pair(
        self,
        cut: PieceCuts,
        one: tuple[Variable, Variable],
        other: tuple[Variable, Variable],
        hold: int,
    ) -> Variable:
        """Return whether two pieces lie on either side of the last cut of an exact run."""
        flag = self._at_least(one[1] + other[1], hold, one[0])
        self._model.add_implication(flag, other[0])
        self._ends(cut, flag)
        return flag

    def _at_least(self, size: Variable, least: int, there: Variable = 1) -> Variable:
        """Return a flag that may be set only where something is there and so large."""
        flag = self._pieces.flag()
        self._model.add(size >= least).only_enforce_if(flag)
        self._model.add(there >= flag)
        return flag

    def _some(self, flags: list[Variable]) -> None:
        self._model.add_bool_or(flags)
