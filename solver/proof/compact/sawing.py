"""Sawing time of the compact model: cuts, distinct set-ups, skims, rips beyond the guide.

The same rules as `solver.limits.measure`, as variables: a run that fills its piece exactly saves
the cut of one member, whose size then needs no set-up there.
"""

from collections.abc import Callable
from typing import NamedTuple

from solver.proof.compact.pieces import Pairs, Pieces
from solver.proof.stoppable import Variable

SizeOf = Callable[[int, bool], int]
"""Size of a copy across the cuts of a level, by the way it lies."""
SparedOf = Callable[[int], Variable]
"""Whether a copy needs no cut at a level."""


class Spared(NamedTuple):
    """Members that need no cut because they end an exact run, by member and leader."""

    flags: Pairs

    def of(self, member: int) -> Variable:
        """Whether a member is spared its cut, whatever piece it lies in."""
        return sum(flag for (m, _), flag in self.flags.items() if m == member)


class Sawing:
    """Cuts, set-ups and skims of all pieces of a compact model."""

    def __init__(self, pieces: Pieces) -> None:
        self._pieces = pieces
        self._model = pieces.model
        self._cuts: list[Variable] = []
        self._setups: list[Variable] = []
        self._skims: list[Variable] = []
        self._unguided: list[Variable] = []
        self._rips()
        self._crosscuts()
        self._block_rips()
        self._last_trims()
        self._reference_trims()

    @property
    def seconds(self) -> Variable:
        """Sawing time by the instance's weights."""
        weights = self._pieces.instance.weights
        return (
            weights.cut_s * sum(self._cuts)
            + weights.setup_s * sum(self._setups)
            + weights.skim_s * sum(self._skims)
            + weights.unguided_s * sum(self._unguided)
        )

    def _rips(self) -> None:
        """Level 1: strips off sheets."""
        pieces = self._pieces
        exact = [kind.exact_width for kind in pieces.instance.kinds]
        spared = self._spare(pieces.in_sheet, pieces.left_across, exact)
        exists = [pieces.in_strip[t, t] for t in range(pieces.count)]
        self._count_pieces(1, exists, pieces.width, spared)

    def _crosscuts(self) -> None:
        """Level 2: blocks off strips."""
        pieces = self._pieces
        exact = [kind.exact_length for kind in pieces.instance.kinds]
        spared = self._spare(pieces.in_strip, pieces.left_along, exact)
        exists = [pieces.in_block[b, b] for b in range(pieces.count)]
        self._count_pieces(2, exists, pieces.length, spared)

    def _spare(self, pairs: Pairs, left: list[Variable], exact: list[bool]) -> Spared:
        """Let each run end exactly or not, by the kind of its sheet; note its skim."""
        spared = Spared({pair: self._pieces.flag() for pair in pairs})
        for leader in range(self._pieces.count):
            may = sum(self._pieces.on_kind[leader, k] for k, good in enumerate(exact) if good)
            ends = self._ending(pairs[leader, leader], left[leader])
            self._model.add(ends <= may)
            self._skim(pairs[leader, leader], left[leader], may)
            self._one_spared(spared, pairs, leader, ends)
        return spared

    def _ending(self, exists: Variable, left: Variable) -> Variable:
        """Return a flag that may be set only where a piece is filled exactly."""
        ends = self._pieces.flag()
        self._model.add_implication(ends, exists)
        self._model.add(left == 0).only_enforce_if(ends)
        return ends

    def _one_spared(self, spared: Spared, pairs: Pairs, leader: int, ends: Variable) -> None:
        flags = [(m, flag) for (m, other), flag in spared.flags.items() if other == leader]
        for member, flag in flags:
            self._model.add_implication(flag, pairs[member, leader])
        self._model.add(sum(flag for _, flag in flags) <= ends)

    def _skim(self, exists: Variable, left: Variable, may: Variable = 1) -> None:
        """Count a skim where something is left, but no more than a kerf."""
        kerf = self._pieces.instance.kerf
        if kerf == 0:
            return
        skims, none = self._pieces.flag(), self._pieces.flag()
        self._model.add(left == 0).only_enforce_if(none)
        offcut = self._pieces.flag()
        self._model.add(left > kerf).only_enforce_if(offcut)
        self._model.add(skims + none + offcut >= exists + may - 1)
        self._skims.append(skims)

    def _count_pieces(
        self, level: int, exists: list[Variable], sizes: list[Variable], spared: Spared
    ) -> None:
        """Count a cut for each piece not spared, and one set-up for equal sizes."""
        needed = []
        for member, there in enumerate(exists):
            cut = self._pieces.flag()
            self._model.add(cut == there - spared.of(member))
            needed.append(cut)
            self._guide(cut, sizes[member], self._is_rip(member, level))
        self._cuts += needed
        self._distinct(needed, sizes)

    def _is_rip(self, member: int, level: int) -> Variable:
        """Return whether cuts of a level are rips on the sheet that a copy lies on."""
        kinds = enumerate(self._pieces.instance.kinds)
        rips = [k for k, kind in kinds if kind.transposed is (level % 2 == 0)]
        return sum(self._pieces.on_kind[member, k] for k in rips)

    def _guide(self, needed: Variable, size: Variable, rip: Variable) -> None:
        """Count a rip that is needed and whose size the guide cannot be set to."""
        guide = self._pieces.instance.limits.guide
        if guide is None:
            return
        within, beyond = self._pieces.flag(), self._pieces.flag()
        self._model.add(size >= guide[0]).only_enforce_if(within)
        self._model.add(size <= guide[1]).only_enforce_if(within)
        self._model.add(beyond >= needed + rip - 1 - within)
        self._unguided.append(beyond)

    def _distinct(self, needed: list[Variable], sizes: list[Variable]) -> None:
        """Count the needed sizes that no earlier one equals."""
        for one, size in enumerate(sizes):
            known = [self._same(needed[other], size, sizes[other]) for other in range(one)]
            first = self._pieces.flag()
            self._model.add_bool_or(first, ~needed[one], *known)
            self._setups.append(first)

    def _same(self, needed: Variable, size: Variable, other: Variable) -> Variable:
        """Return a flag that may be set only where sizes agree and the other is needed."""
        same = self._pieces.flag()
        self._model.add_implication(same, needed)
        self._model.add(size == other).only_enforce_if(same)
        return same

    def _block_rips(self) -> None:
        """Level 3: items off blocks; the block is as wide as its strip."""
        pieces = self._pieces
        spared = Spared({pair: pieces.flag() for pair in pieces.in_block})
        for b in range(pieces.count):
            exists = pieces.in_block[b, b]
            left = pieces.left_across_block(b)
            self._skim(exists, left)
            self._one_spared(spared, pieces.in_block, b, self._ending(exists, left))
        for c in range(pieces.count):
            self._cuts.append(1 - spared.of(c))
        self._by_size(3, lambda c, turned: pieces.copies[c].ways[turned][1], spared.of)

    def _by_size(self, level: int, size: SizeOf, spared: SparedOf) -> None:
        """Count one set-up for each size that some copy needs at this level."""
        used: dict[int, Variable] = {}
        for (c, turned), lies in self._pieces.lies.items():
            if size(c, turned) not in used:
                used[size(c, turned)] = self._pieces.flag()
            self._model.add(used[size(c, turned)] >= lies - spared(c))
            self._guide(lies - spared(c), size(c, turned), self._is_rip(c, level))
        self._setups += used.values()

    def _last_trims(self) -> None:
        """Level 4: items off pieces that are as long as their block."""
        if self._pieces.instance.levels < 3:
            return
        pieces = self._pieces
        whole = [pieces.flag() for _ in range(pieces.count)]
        for c in range(pieces.count):
            left = pieces.left_along_block(c)
            self._model.add(left == 0).only_enforce_if(whole[c])
            self._skim(1, left)
            self._cuts.append(1 - whole[c])
        self._by_size(4, lambda c, turned: pieces.copies[c].ways[turned][0], whole.__getitem__)

    def _reference_trims(self) -> None:
        """Cuts that make a reference edge: each kind of them is one set-up."""
        pieces, kinds = self._pieces, self._pieces.instance.kinds
        self._trims([v for (_, k), v in pieces.bought.items() if kinds[k].sheet_trim])
        self._trims(
            [
                pieces.both(pieces.in_strip[t, t], pieces.on_kind[t, k])
                for t in range(pieces.count)
                for k, kind in enumerate(kinds)
                if kind.strip_trim
            ]
        )

    def _trims(self, cuts: list[Variable]) -> None:
        if cuts:
            any_cut = self._pieces.flag()
            for cut in cuts:
                self._model.add_implication(cut, any_cut)
            self._cuts += cuts
            self._setups.append(any_cut)
