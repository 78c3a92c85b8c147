"""Builds typed values from plain JSON, and says exactly where something does not fit."""

import types
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import MISSING, Field, fields, is_dataclass
from enum import StrEnum
from functools import cache
from pathlib import Path
from typing import Any, TypeVar, Union, get_args, get_origin, get_type_hints

from layout_app.store.errors import FileProblem
from shared.quoting import quoted, whole

LARGEST = 2**53
"""Largest whole number taken from a file: what every JSON reader holds exactly."""

Adapt = Callable[[type, str, object], object]
"""Given a record's type, a field's name and its raw value, returns the value to read, or
raises ValueError with a sentence."""

_T = TypeVar("_T")


class Misfit(Exception):  # noqa: N818 - becomes a FileProblem once the path is known
    """Something in the JSON is not what belongs there: place and reason."""

    def __init__(self, place: str, reason: str) -> None:
        super().__init__(f"{place}: {reason}")
        self.place = place
        self.reason = reason


@contextmanager
def misfits_of(path: Path, deepest: str = "") -> Iterator[None]:
    """Raise what does not fit in a file meanwhile as a `FileProblem`.

    ``deepest`` is where trees of cuts stand in it, which may be nested without end.
    """
    try:
        yield
    except Misfit as misfit:
        raise FileProblem(path, misfit.place, misfit.reason) from None
    except RecursionError:
        raise FileProblem(path, deepest, "a tree of cuts is nested too deeply") from None


def as_is(_kind: type, _field: str, raw: object) -> object:
    """Leave a raw value alone."""
    return raw


def build(kind: type[_T], raw: object, place: str = "", adapt: Adapt = as_is) -> _T:
    """Return the value of a dataclass that plain JSON describes.

    Raises
    ------
    Misfit
        For a missing or unknown field, a wrong type, a word that is none of an
        enumeration, a whole number out of range, or a value the dataclass refuses.
    """
    if not isinstance(raw, Mapping):
        raise Misfit(place, f"expected named fields, found {_what(raw)}")
    known = _fields(kind)  # type: ignore[arg-type] # every class has a hash; mypy misses type[T]'s
    for name in raw:
        if name not in known:
            raise Misfit(join(place, name), "no field of this name is known")
    given = {}
    for name, (field, hint) in known.items():
        if name in raw:
            inside = join(place, name)
            given[name] = _value(
                hint, _adapted(adapt, kind, name, raw[name], inside), inside, adapt
            )
        elif field.default is MISSING and field.default_factory is MISSING:
            raise Misfit(place, f"the field {quoted(name)} is missing")
    return _made(kind, given, place)


def join(place: str, name: str) -> str:
    """Add a field to a place."""
    return f"{place}.{name}" if place else name


@cache
def _fields(kind: type) -> dict[str, tuple[Field[Any], Any]]:
    """Return the fields a file may give; those that do not count when comparing are in none."""
    hints = get_type_hints(kind)
    return {field.name: (field, hints[field.name]) for field in fields(kind) if field.compare}


def _adapted(adapt: Adapt, kind: type, name: str, raw: object, place: str) -> object:
    try:
        return adapt(kind, name, raw)
    except ValueError as error:
        raise Misfit(place, str(error).rstrip(".")) from None


def _made(kind: type[_T], given: dict[str, object], place: str) -> _T:
    try:
        return kind(**given)
    except ValueError as error:
        raise Misfit(place, str(error).rstrip(".")) from None


def _value(hint: Any, raw: object, place: str, adapt: Adapt) -> object:
    if get_origin(hint) in (Union, types.UnionType):
        return _optional(hint, raw, place, adapt)
    if get_origin(hint) is tuple:
        return _several(get_args(hint)[0], raw, place, adapt)
    if isinstance(hint, type) and is_dataclass(hint):
        return build(hint, raw, place, adapt)
    if issubclass(hint, StrEnum):
        return _word(hint, raw, place)
    return _plain(hint, raw, place)


def _optional(hint: Any, raw: object, place: str, adapt: Adapt) -> object:
    """Read ``X | None``, the only kind of union that files hold."""
    inner = next(arg for arg in get_args(hint) if arg is not type(None))
    return None if raw is None else _value(inner, raw, place, adapt)


def _several(hint: Any, raw: object, place: str, adapt: Adapt) -> tuple[object, ...]:
    if not isinstance(raw, list):
        raise Misfit(place, f"expected a list, found {_what(raw)}")
    return tuple(_value(hint, item, f"{place}[{i}]", adapt) for i, item in enumerate(raw))


def _word(hint: type[StrEnum], raw: object, place: str) -> StrEnum:
    words = [str(word) for word in hint]
    if raw not in words:
        raise Misfit(place, f"expected one of {', '.join(words)}; found {_what(raw)}")
    return hint(raw)


def _plain(hint: type, raw: object, place: str) -> object:
    names = {int: "a whole number", str: "text", bool: "true or false"}
    if type(raw) is not hint:
        raise Misfit(place, f"expected {names[hint]}, found {_what(raw)}")
    if isinstance(raw, int) and abs(raw) > LARGEST:
        raise Misfit(place, "the number is too large")
    return whole(raw) if isinstance(raw, str) else raw


def _what(raw: object) -> str:
    """Name a raw value in a sentence."""
    if raw is None:
        return "nothing (null)"
    if isinstance(raw, bool):
        return "true" if raw else "false"
    if isinstance(raw, str):
        return quoted(raw)
    if isinstance(raw, (int, float)):
        return str(raw)[:40]
    return "a list" if isinstance(raw, list) else "named fields"
