"""How rows that are shown become others one step at a time, so that the cursor stays on its row."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import takewhile


@dataclass(frozen=True, slots=True)
class Gone:
    """The lines from first to last are taken away."""

    first: int
    last: int


@dataclass(frozen=True, slots=True)
class Moved:
    """A line goes up to another place."""

    line: int
    to: int


@dataclass(frozen=True, slots=True)
class Come:
    """New lines stand from first to last."""

    first: int
    last: int


RowStep = Gone | Moved | Come


def row_steps(before: Sequence[str], after: Sequence[str]) -> Iterator[RowStep]:
    """Yield the steps from one order of names to another; no name stands twice in either."""
    wanted, known = set(after), set(before)
    kept = list(before)
    for step in _gone(before, wanted):
        yield step
        del kept[step.first : step.last + 1]
    place = 0
    while place < len(after):
        new = len(list(takewhile(lambda name: name not in known, after[place:])))
        if new:
            yield Come(place, place + new - 1)
            kept[place:place] = after[place : place + new]
        elif kept[place] != after[place]:
            line = kept.index(after[place], place)
            yield Moved(line, place)
            kept.insert(place, kept.pop(line))
        place += max(new, 1)


def _gone(before: Sequence[str], wanted: set[str]) -> Iterator[Gone]:
    """Yield runs of lines that nobody wants, the last run first."""
    last = -1
    for line in range(len(before) - 1, -2, -1):
        if line >= 0 and before[line] not in wanted:
            last = line if last < 0 else last
        elif last >= 0:
            yield Gone(line + 1, last)
            last = -1
