"""How an error is planted in a plan file: at which places, and what is changed there.

A place is a path of keys with ``*`` for every row of a list. A change may look at the whole
file; one that returns ``False`` cannot be planted there.
"""

from collections.abc import Callable, Iterator
from copy import deepcopy
from random import Random
from typing import Any, Final, NamedTuple

Row = dict[str, Any]
Change = Callable[[Row, Row, Random], object]


WEAKER: Final = "it claims less, which is true as well"
PROOF: Final = "a proof is repeated only by planning again"
NAME: Final = "the same sum under a name that claims less"
STAYS: Final = "no limit is held against sheets that stay, and this plan has no other"
WORDS: Final = "words for the maker, which nothing rests on"
ALONE: Final = "seen only beside another sheet of its row"
MORE: Final = "a shop that can do more, or keeps less, breaks no promise of this plan"
NOT_HERE: Final = "seen only where this plan makes use of it"
LATER: Final = "about making, not about what is cut"


class Kind(NamedTuple):
    """A kind of error: where, what is changed there, and why it may pass unseen, if it may."""

    path: str
    change: Change
    fair: str = ""


def places(raw: Any, path: str) -> Iterator[tuple[Any, ...]]:
    """Yield the keys that lead to every row of a path."""
    step, _, rest = path.partition(".")
    if not step:
        yield ()
        return
    keys = range(len(raw)) if step == "*" else [step]
    for key in keys:
        if raw[key] is not None:
            yield from ((key, *more) for more in places(raw[key], rest))


def planted(raw: Row, kind: Kind, chance: Random, most: int) -> Iterator[Row]:
    """Yield copies of a file with an error of a kind planted, at most so many places."""
    found = list(places(raw, kind.path))
    for keys in chance.sample(found, min(most, len(found))):
        copy = deepcopy(raw)
        row = copy
        for key in keys:
            row = row[key]
        if kind.change(row, copy, chance) is not False and copy != raw:
            yield copy


def add(field: str, more: int) -> Change:
    """Return what changes a number by so much."""

    def change(row: Row, raw: Row, chance: Random) -> None:
        row[field] += more

    return change


def put(field: str, value: Any) -> Change:
    """Return what puts a value in place of another."""

    def change(row: Row, raw: Row, chance: Random) -> object:
        if row.get(field) == value:
            return False
        row[field] = deepcopy(value)
        return True

    return change


def flip(field: str) -> Change:
    """Return what makes true of false and false of true."""

    def change(row: Row, raw: Row, chance: Random) -> None:
        row[field] = not row[field]

    return change


def other(field: str, path: str) -> Change:
    """Return what puts another value of the file in place: the same field of other rows."""

    def change(row: Row, raw: Row, chance: Random) -> object:
        values = []
        for keys in places(raw, path):
            found: Any = raw
            for key in keys:
                found = found[key]
            if found.get(field, found.get("id")) != row[field]:
                values.append(found.get(field, found.get("id")))
        if not values:
            return False
        row[field] = chance.choice(values)
        return True

    return change


def word(field: str, *words: str) -> Change:
    """Return what puts another of some words."""

    def change(row: Row, raw: Row, chance: Random) -> None:
        row[field] = chance.choice([one for one in words if one != row[field]])

    return change


def drop(field: str) -> Change:
    """Return what leaves a row of a list out."""

    def change(row: Row, raw: Row, chance: Random) -> object:
        return bool(row[field]) and row[field].pop(chance.randrange(len(row[field]))) is not None

    return change


def double(field: str) -> Change:
    """Return what lists a row twice."""

    def change(row: Row, raw: Row, chance: Random) -> object:
        if not row[field]:
            return False
        row[field].append(deepcopy(chance.choice(row[field])))
        return True

    return change


def swap(field: str, *fields: str) -> Change:
    """Return what swaps two rows of a list, or only these fields of theirs."""

    def change(row: Row, raw: Row, chance: Random) -> object:
        rows = row[field]
        if len(rows) < 2:
            return False
        one, two = chance.sample(range(len(rows)), 2)
        if not fields:
            rows[one], rows[two] = rows[two], rows[one]
        for name in fields:
            rows[one][name], rows[two][name] = rows[two][name], rows[one][name]
        return True

    return change


def when(able: Callable[[Row], object], change: Change) -> Change:
    """Return a change of rows that fulfil something."""

    def some(row: Row, raw: Row, chance: Random) -> object:
        return change(row, raw, chance) if able(row) else False

    return some


def append(field: str, value: Row) -> Change:
    """Return what adds a row to a list."""

    def change(row: Row, raw: Row, chance: Random) -> None:
        row[field].append(deepcopy(value))

    return change
