"""Names and keys of cuts: which piece is sawn off next, and what a key says lies in it.

A key is built as `shared.plan.Cut` names it: ``2/p1:3`` is the cut of level 2 that saws off
the piece whose first copy is number 3 of part ``p1``; ``1w4000-2/p1:3`` the second piece of
waste of that size in the run over the piece of that copy; ``1t/p1:3`` its trim. A piece
without parts is called by the cut that sawed it off, a sheet ``sheet 1``, what an earlier
run has left of a piece like that run with a ``+``. In a half, which cuts of one level saw off and
saw up, levels count two more.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field

from shared.issues import Issue
from shared.lengths import Length
from shared.plan import Cut, CutKind, Placement, PlanSheet
from shared.saw.contents import Parted
from shared.saw.refusal import unfit
from shared.saw.sawhorses import SawPass
from shared.shop import Axis

HALVED = 2
"""Cuts down to that level may saw further what cuts of their level have sawn off."""


@dataclass(slots=True)
class _OpenRun:
    """The cuts of one level and direction over one piece, while they are read.

    So many ``halves`` of a sheet lie around it, each sawn further by cuts of the first level.
    """

    way: tuple[int, Axis]
    name: str
    halves: int = 0
    wastes: Counter[Length] = field(default_factory=Counter)


class Keys:
    """Reads names and keys in sawing order; keys only where the cuts have any."""

    def __init__(self, sheets: Iterable[PlanSheet], *, keyed: bool) -> None:
        self._keyed = keyed
        self._given = Counter[str]()
        self._called: dict[str, str] = {}
        for sheet in sheets:
            self._given[sheet.id] = sheet.named
            self._called[sheet.id] = f"sheet {sheet.id}"
        self._runs: dict[str, _OpenRun] = {}
        self._seen: set[str] = set()
        self._off: dict[str, _OpenRun] = {}

    def faults(self, cut: Cut, done: SawPass, parted: Parted) -> Iterator[Issue]:
        """Yield what name and key of a cut say otherwise."""
        run = self._run(cut, done, parted)
        if cut.kind is not CutKind.TRIM:
            self._given[cut.piece] += 1
            named = cut.piece + _label(cut.piece, self._given[cut.piece])
            if cut.off != named:
                yield unfit(
                    cut, "cut-off-name", f"the next piece off {cut.piece} is {named}", "off"
                )
            self._called[cut.off] = cut.key
            self._off[cut.off] = run
        if self._keyed:
            yield from self._wrong_key(cut, done, run, parted)

    def _run(self, cut: Cut, done: SawPass, parted: Parted) -> _OpenRun:
        """Return the run a cut is of; it is called by what lay in its piece when it began."""
        run, way = self._runs.get(cut.piece), (cut.level, done.axis)
        if run is None or run.way != way:
            if run is not None:
                self._called[cut.piece] = f"{run.name}+"
            name = _first(parted.before) or self._called.get(cut.piece, "")
            around = None if cut.kind is CutKind.FINISH else self._off.get(cut.piece)
            halves = self._halves(run, around, way)
            run = self._runs[cut.piece] = _OpenRun(way, name, halves)
        return run

    @staticmethod
    def _halves(before: _OpenRun | None, around: _OpenRun | None, way: tuple[int, Axis]) -> int:
        """Count the halves around a run: it goes on with a piece, or saws up one sawn off."""
        if before is not None:
            return before.halves
        if around is None:
            return 0
        return around.halves + (around.way == way and way[0] <= HALVED)

    def _wrong_key(self, cut: Cut, done: SawPass, run: _OpenRun, parted: Parted) -> Iterator[Issue]:
        level = cut.level + 2 * run.halves
        if cut.kind is CutKind.TRIM:
            right = f"{level}t/{run.name}"
        elif first := _first(parted.near):
            right = f"{level}/{first}"
        else:
            run.wastes[done.near] += 1
            right = f"{level}w{done.near}-{run.wastes[done.near]}/{run.name}"
        if cut.key != right or cut.key in self._seen:
            yield unfit(cut, "cut-key", f"what it saws off has the key {right}", "key")
        self._seen.add(cut.key)


def _first(copies: Sequence[Placement]) -> str:
    if not copies:
        return ""
    part, copy = min([one.key for one in copies])
    return f"{part}:{copy}"


def _label(piece: str, number: int) -> str:
    """Return what is added to a name: letters behind a digit, a number behind a letter."""
    if not piece[-1:].isdigit():
        return str(number)
    label = ""
    while number > 0:
        number, digit = divmod(number - 1, 26)
        label = chr(ord("a") + digit) + label
    return label
