"""One figure of the shop: how it is called, read and written, and what common practice is."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any, Final

from layout_app.panels.columns import (
    measured_size,
    measured_text,
    not_negative,
    positive,
    size_text,
    words,
)
from shared.amounts import AmountError
from shared.check_shop import BASE_SLACK, LONGEST_STEP_S, SECONDS, too_long
from shared.lengths import LengthStyle
from shared.practice import REASONS, Reason, practised, usual_base, usual_table
from shared.quoting import quoted
from shared.shop import ABSENT, SawBase, Shop, Span, TableSaw
from shared.weighing import format_weight, parse_weight

NO_LIMIT: Final = "no limit"
NOT_MEASURED: Final = "measure"
MANY_FIGURES: Final = 9


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """One value of the shop.

    Attributes
    ----------
    words, tip
        What it is called, and what it means.
    field
        Its place in the shop, as issues name it.
    reason
        Key of `shared.practice.REASONS`; ``""`` where the reason stands at another figure.
    practised
        Whether common practice has a figure for it.
    get, put
        Take it out of a shop, and return the shop with another.
    write, read
        As text and back; reading raises a ValueError whose text is a sentence.
    empty
        What stands in its field where nothing does, in pencil.
    asked
        Whether it is a figure of such a shop at all.
    """

    words: str
    field: str
    reason: str = ""
    practised: bool = True
    empty: str = ""
    tip: str = ""
    get: Callable[[Shop], Any]
    put: Callable[[Shop, Any], Shop]
    write: Callable[[Any, LengthStyle], str]
    read: Callable[[str, LengthStyle], Any]
    asked: Callable[[Shop], bool] = lambda _: True

    def usual(self, shop: Shop, style: LengthStyle) -> Any:
        """Return the figure of common practice for such a shop, in round numbers of the unit."""
        usually = practised(shop, style.unit)
        if usually.base is not None:
            usually = replace(usually, base=usual_base(style.unit, shop.kerf))
        return self.get(replace(usually, table=usual_table(style.unit)))

    def why(self) -> Reason | None:
        """Return the reason that is shown with it, if one is."""
        return REASONS.get(self.reason)


def plain(words: str, field: str, **more: Any) -> Figure:
    """Return a figure that is a field of the shop itself."""

    def put(shop: Shop, value: Any) -> Shop:
        change: dict[str, Any] = {field: value}
        return replace(shop, **change)

    return Figure(words=words, field=field, get=lambda shop: getattr(shop, field), put=put, **more)


def paced(field: str, tip: str) -> Figure:
    """Return how many seconds a kind of work takes; more than an hour is not read."""
    words = f"seconds {SECONDS[field]}"

    def read(text: str, _style: LengthStyle) -> int:
        count = text.strip()
        if not (count.isascii() and count.isdecimal()):
            said = f"{words.capitalize()}: {quoted(text)} is not a number of seconds: enter a whole"
            raise AmountError(f"{said} number from 0 to {LONGEST_STEP_S:,}.")
        if len(count) > MANY_FIGURES or int(count) > LONGEST_STEP_S:
            raise AmountError(too_long(words, quoted(text)))
        return int(count)

    return plain(words, field, reason=field, tip=tip, write=lambda one, _: str(one), read=read)


def of_table(words: str, field: str, **more: Any) -> Figure:
    """Return a figure of the table saw."""

    def put(shop: Shop, value: Any) -> Shop:
        change: dict[str, Any] = {field: value}
        return replace(shop, table=replace(_table(shop), **change))

    def get(shop: Shop) -> Any:
        return getattr(_table(shop), field)

    return Figure(words=words, field=f"table.{field}", get=get, put=put, **more)


def of_fence(words: str, end: str, **more: Any) -> Figure:
    """Return what the fence of the table saw is set to at least or at most."""

    def put(shop: Shop, value: Any) -> Shop:
        change: dict[str, Any] = {end: value}
        table = _table(shop)
        return replace(shop, table=replace(table, fence=replace(table.fence, **change)))

    def get(shop: Shop) -> Any:
        return getattr(_table(shop).fence, end)

    return Figure(words=words, field=f"fence.{end}", get=get, put=put, **more, **LENGTH)


def of_span(words: str, field: str, end: str, **more: Any) -> Figure:
    """Return what a guide or stop can be set to at least or at most; ``None`` for no limit."""

    def put(shop: Shop, value: Any) -> Shop:
        span = _span(shop, field)
        if span is None:
            span = Span(least=0, most=0 if value is None else value)
        change: dict[str, Any] = {field: None if value is None else replace(span, **{end: value})}
        return replace(shop, **change)

    def get(shop: Shop) -> Any:
        span = _span(shop, field)
        return None if span is None else getattr(span, end)

    read = _read_most if end == "most" else _read_least
    return Figure(
        words=words,
        field=f"{field}.{end}",
        get=get,
        put=put,
        write=lambda ticks, style: NO_LIMIT if ticks is None else size_text(ticks, style) or "0",
        read=read,
        **more,
    )


_FAR: Final = {"left_near": "left_far", "right_near": "right_far"}
"""The farther face of the blade by the nearer one, with which it goes: so thick is the blade."""


def of_base(words: str, field: str, **more: Any) -> Figure:
    """Return a distance at the base of a circular saw; 0 while it is not measured."""

    def put(shop: Shop, value: Any) -> Shop:
        base = _base(shop)
        change: dict[str, Any] = {field: value}
        if far := _FAR.get(field):
            thick = getattr(base, far) - getattr(base, field)
            if min(value, getattr(base, field)) > 0 and abs(thick - shop.kerf) <= BASE_SLACK:
                change[far] = value + thick  # until that is measured too
        return replace(shop, base=replace(base, **change))

    return Figure(
        words=words,
        field=f"base.{field}",
        get=lambda shop: getattr(_base(shop), field),
        put=put,
        write=lambda ticks, style: (
            measured_text(ticks, replace(style, denominator=64)) if ticks else ""
        ),
        empty=NOT_MEASURED,
        read=measured_size,
        **more,
    )


def there(shop: Shop, field: str, *, unlimited: bool) -> bool:
    """Say whether a shop has a guide or stop; with no limit given it has, if that may be."""
    span = _span(shop, field)
    return span != ABSENT and (span is not None or unlimited)


def named(what: str) -> dict[str, Any]:
    """Return how a saw's name is written and read."""
    return {
        "practised": False,
        "write": lambda name, _: name,
        "read": lambda text, _: words(text, what),
    }


LENGTH: Final[dict[str, Any]] = {
    "write": lambda ticks, style: size_text(ticks, style) or "0",
    "read": not_negative,
}
LIMIT: Final[dict[str, Any]] = {
    "write": lambda ticks, style: size_text(ticks, style) or NO_LIMIT,
    "read": lambda text, style: 0 if _is_no_limit(text) else not_negative(text, style),
}
KERF: Final[dict[str, Any]] = {
    "write": lambda ticks, style: measured_text(ticks, style) or "0",
    "read": not_negative,
}
WEIGHT: Final[dict[str, Any]] = {
    "write": lambda grams, style: format_weight(grams, style.unit) if grams else NO_LIMIT,
    "read": lambda text, style: 0 if _is_no_limit(text) else parse_weight(text, style.unit),
}
HEAVIEST: Final[dict[str, Any]] = {
    "write": lambda grams, style: format_weight(grams, style.unit) if grams else "0",
    "read": lambda text, style: parse_weight(text, style.unit),
}


def _is_no_limit(text: str) -> bool:
    return " ".join(text.casefold().split()) in ("", "none", NO_LIMIT)


def _read_least(text: str, style: LengthStyle) -> int | None:
    return None if _is_no_limit(text) else not_negative(text, style)


def _read_most(text: str, style: LengthStyle) -> int | None:
    return None if _is_no_limit(text) else positive(text, style)


def _table(shop: Shop) -> TableSaw:
    return shop.table or usual_table(LengthStyle().unit)


def _base(shop: Shop) -> SawBase:
    return shop.base or SawBase(left_near=0, left_far=0, right_near=0, right_far=0, length=0)


def _span(shop: Shop, field: str) -> Span | None:
    span: Span | None = getattr(shop, field)
    return span
