"""The forest of cuts of a job: every pass of the saw, and which piece each one needs.

A run saws one piece, pass after pass from its reference end. A pass opens the run of the
piece it saws off; the last one, at an exact ending, also the run of what remains. So a run
may begin as soon as its piece lies there, and what order is left is the sequence's choice.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from shared.geometry import Rect
from shared.lengths import Length
from shared.making.settings import LETTERS, Device
from shared.plan import CutKind, Keep
from shared.shop import Axis
from shared.tree import Place, Run

Setting = tuple[str, Device, Length]
"""What is set: the tool, what holds the size there, and the size in ticks."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pass:
    """One pass of the saw, before it has a number.

    Attributes
    ----------
    key
        Says what is sawn off, whatever the order: level, and first copy in the piece.
    run
        Index of its run in the forest.
    kind, level, axis, tool, kerf, dust, size, keep
        As in `shared.plan.Cut`.
    device
        What holds the size, or whether it is marked.
    opens
        Index of the run that saws up what is sawn off, or ``None``.
    """

    key: str
    run: int
    kind: CutKind
    level: int
    axis: Axis
    tool: str
    kerf: Length
    dust: Rect
    size: Length
    keep: Keep
    device: Device
    opens: int | None = None

    @property
    def setting(self) -> Setting:
        """What is set, and at what: two that need the same share it."""
        return self.tool, self.device, self.size

    @property
    def is_set(self) -> bool:
        """Whether a guide, stop or fence is set for it; else it is marked."""
        return self.device in LETTERS


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceRun:
    """All passes over one piece.

    ``rect`` is the piece in the frame of its sheet; ``goes_on`` the run that saws up what
    the last pass leaves of it, or ``None``. ``parent`` is the run the piece comes from, -1
    for a sheet. ``finishes`` says that a blank is brought to its final size.
    """

    sheet: str
    rect: Rect
    run: Run
    passes: tuple[Pass, ...]
    goes_on: int | None = None
    parent: int = -1
    finishes: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Leaf:
    """What is not sawn further: a part, or a fall; ``key`` is the pass that saws it off.

    Without a key it is what the run of index ``rest`` leaves of its piece.
    """

    sheet: str
    rect: Rect
    place: Place | None
    key: str = ""
    rest: int = -1


@dataclass(frozen=True, slots=True, kw_only=True)
class Forest:
    """All runs and leaves of some sheets; ``placed`` are the parts as they leave the sheets."""

    runs: tuple[PieceRun, ...]
    leaves: tuple[Leaf, ...]
    placed: tuple[tuple[str, Place, Rect], ...]

    def passes(self) -> Iterator[Pass]:
        """Yield every pass, run by run."""
        for run in self.runs:
            yield from run.passes
