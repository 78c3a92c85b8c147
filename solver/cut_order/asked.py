"""What is asked of the order of cuts, and what comes of it."""

from dataclasses import dataclass

from shared.job import Job
from shared.layout import CutBefore, LayoutSheet


@dataclass(frozen=True, slots=True, kw_only=True)
class Ordered:
    """Sheets and the order of their cuts.

    Attributes
    ----------
    sheets
        With their pieces in the order in which they are sawn off.
    order
        Keys of all passes, in sawing order.
    changes, bound
        Set-up changes, and how many any order of this mode has at least.
    """

    sheets: tuple[LayoutSheet, ...]
    order: tuple[str, ...]
    changes: int
    bound: int

    @property
    def proven(self) -> bool:
        """Whether no order of this mode has fewer set-up changes."""
        return self.changes <= self.bound


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What is to be put in order.

    ``fixed`` are sheets whose pieces stay where they lie; ``made`` the keys of the passes
    that are made already, in their order.
    """

    job: Job
    sheets: tuple[LayoutSheet, ...]
    fixed: frozenset[str] = frozenset()
    before: tuple[CutBefore, ...] = ()
    made: tuple[str, ...] = ()
