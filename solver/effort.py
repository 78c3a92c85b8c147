"""How much one step of work may take."""

from typing import NamedTuple


class Effort(NamedTuple):
    """Seconds at most, the seed, and units of work if it is counted instead of timed."""

    seconds: float
    seed: int
    work: int | None = None
