"""What is written on each cut, held against the pass the saw made of it."""

from collections.abc import Iterable, Iterator

from shared.issues import Issue
from shared.lengths import Length
from shared.plan import Cut, CutKind, Keep, PlanSheet
from shared.saw.contents import Parted
from shared.saw.refusal import unfit
from shared.saw.sawhorses import SawPass
from shared.shop import Axis

LAST_TRIM_LEVEL = 4
"""From this depth on a cut that leaves no part behind it is called a last trim."""

Setup = tuple[str, str, Length]
"""What a set-up stands for: level, or kind of a cut that has none; tool; size."""


class Cards:
    """Reads the cuts in sawing order and remembers what later ones must agree with."""

    def __init__(
        self,
        sheets: Iterable[PlanSheet],
        *,
        blanks: Iterable[str] = (),
        first: int = 1,
    ) -> None:
        """Take the sheets, which parts are blanks, and the first number."""
        self._blanks = set(blanks)
        self._trims = {
            sheet.id: {Axis.RIP: sheet.trims.near, Axis.CROSSCUT: sheet.trims.start}
            for sheet in sheets
        }
        self._read = first - 1
        self._depths: dict[str, tuple[int, Axis]] = {}
        self._keys: dict[Setup, str] = {}
        self._setups: dict[str, Setup] = {}
        self._kerfs: dict[str, Length] = {}

    def faults(self, cut: Cut, done: SawPass, parted: Parted) -> Iterator[Issue]:
        """Yield whatever the card of a cut says that the pass does not bear out."""
        trim = self._trims[done.piece.sheet][done.axis]
        self._read += 1
        if cut.number != self._read:
            yield unfit(cut, "cut-number", f"it comes as number {self._read}", "number")
        yield from self._depth(cut, done)
        yield from self._kind(cut, done, trim, parted)
        yield from _figures(cut, done, trim)
        yield from self._setup(cut)
        if self._kerfs.setdefault(cut.tool, cut.kerf) != cut.kerf:
            yield unfit(cut, "cut-tool-kerf", f"{cut.tool} had another kerf before", "kerf")

    def _depth(self, cut: Cut, done: SawPass) -> Iterator[Issue]:
        """Check the level, and hand it on to both pieces.

        A cut in the direction of the one that made the piece is of the same level, one at
        right angles a level deeper. A run that fills its piece with one piece needs no cut,
        so two levels more are as good; and so is any level for the first cut of a sheet.
        """
        before, axis = self._depths.get(cut.piece, (0, done.axis.other))
        least = before if axis is done.axis else before + 1
        fits = cut.level >= least and (before == 0 or (cut.level - least) % 2 == 0)
        if not fits:
            yield unfit(cut, "cut-level", f"level {cut.level} cannot be, {least} can", "level")
        self._depths[cut.piece] = self._depths[cut.off] = (max(least, cut.level), done.axis)

    def _kind(self, cut: Cut, done: SawPass, trim: Length, parted: Parted) -> Iterator[Issue]:
        """A trim makes a reference edge of a factory edge; nothing else may be cut before."""
        factory = done.start == 0 and trim > 0
        if cut.kind is CutKind.TRIM:
            if not factory:
                yield unfit(cut, "cut-kind", "there is no factory edge to trim", "kind")
            return
        if factory:
            yield unfit(cut, "cut-untrimmed", "the edge it is measured from is not trimmed", "kind")
        right = CutKind(done.axis.value)
        if self._is_of_blank(done, parted):
            right = CutKind.FINISH
        elif cut.level >= LAST_TRIM_LEVEL and not _parts_beyond(done, parted):
            right = CutKind.LAST_TRIM
        if cut.kind is not right:
            yield unfit(cut, "cut-kind", f"it is called a {cut.kind}, but is a {right}", "kind")

    def _is_of_blank(self, done: SawPass, parted: Parted) -> bool:
        """Whether the piece is a blank that lies free, or what is left of one."""
        if not self._blanks:
            return False
        blanks = (one.rect for one in parted.before if one.part in self._blanks)
        return any(blank.contains(done.piece.rect) for blank in blanks)

    def _setup(self, cut: Cut) -> Iterator[Issue]:
        """Check that a key stands for one tool and size (of a level), and they for one key."""
        setup = setup_of(cut)
        known = self._setups.setdefault(cut.setup, setup)
        if known != setup:
            yield unfit(cut, "cut-setup", f"key {cut.setup!r} stood for another set-up", "setup")
        if self._keys.setdefault(setup, cut.setup) != cut.setup:
            yield unfit(cut, "cut-setup", "its set-up had another key before", "setup")


def setup_of(cut: Cut) -> Setup:
    """Return what the key of a cut's set-up has to stand for."""
    by_itself = cut.kind in {CutKind.TRIM, CutKind.FINISH}
    return str(cut.kind) if by_itself else str(cut.level), cut.tool, cut.size


def _parts_beyond(done: SawPass, parted: Parted) -> bool:
    """Whether a part lies in what is left of the piece behind the cut."""
    rest = done.part_of_piece(done.dust_end, done.far)
    return any(rest.contains(one.rect) for one in parted.far)


def _figures(cut: Cut, done: SawPass, trim: Length) -> Iterator[Issue]:
    """Check keep side, size and running position, each as `Cut` defines it."""
    if cut.kind is CutKind.TRIM:
        keep, size, running = Keep.FAR, done.dust_end - done.start, done.dust_end - trim
        if size != trim:
            yield unfit(cut, "cut-trim", f"it takes {size}, the sheet's trim is {trim}", "size")
    else:
        keep, size, running = Keep.NEAR, done.near, done.dust_start - trim
    if cut.keep is not keep:
        yield unfit(cut, "cut-keep", f"the {keep} side is kept", "keep")
    if cut.size != size:
        yield unfit(cut, "cut-size", f"it is set to {cut.size}, but saws off {size}", "size")
    if cut.running != running:
        said = f"its keep side runs at {running}, not at {cut.running}"
        yield unfit(cut, "cut-running", said, "running")
