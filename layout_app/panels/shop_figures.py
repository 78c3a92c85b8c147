"""The figures of the shop: how each is called, read, written, and what common practice is."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any, Final

from layout_app.panels.columns import measured_text, not_negative, size_text, words
from shared.amounts import parse_count
from shared.lengths import LengthStyle
from shared.practice import REASONS, Reason, usual, usual_table
from shared.shop import SawingOrder, Shop, Span, TableSaw
from shared.weighing import format_weight, parse_weight

NO_LIMIT: Final = "no limit"
SAWINGS: Final = {
    SawingOrder.BY_SHEET: "by sheet",
    SawingOrder.BY_SETUP: "by set-up",
}


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
    """

    words: str
    field: str
    reason: str = ""
    practised: bool = True
    tip: str = ""
    get: Callable[[Shop], Any]
    put: Callable[[Shop, Any], Shop]
    write: Callable[[Any, LengthStyle], str]
    read: Callable[[str, LengthStyle], Any]

    def usual(self, style: LengthStyle) -> Any:
        """Return the figure of common practice, in round numbers of the unit."""
        shop = usual(style.unit)
        return self.get(replace(shop, table=usual_table(style.unit)))

    def why(self) -> Reason | None:
        """Return the reason that is shown with it, if one is."""
        return REASONS.get(self.reason)


def guided(shop: Shop, style: LengthStyle, *, there: bool) -> Shop:
    """Return the shop with the guide of common practice, or without one."""
    return replace(shop, guide=usual(style.unit).guide if there else None)


def tabled(shop: Shop, style: LengthStyle, *, there: bool) -> Shop:
    """Return the shop with the table saw of common practice, or without one."""
    return replace(shop, table=usual_table(style.unit) if there else None)


def _plain(words: str, field: str, **more: Any) -> Figure:
    """Return a figure that is a field of the shop itself."""

    def put(shop: Shop, value: Any) -> Shop:
        change: dict[str, Any] = {field: value}
        return replace(shop, **change)

    return Figure(words=words, field=field, get=lambda shop: getattr(shop, field), put=put, **more)


def _is_no_limit(text: str) -> bool:
    return " ".join(text.casefold().split()) in ("", "none", NO_LIMIT)


def _read_loose(text: str, style: LengthStyle) -> int:
    del style
    count = parse_count(text)
    if count == 0:
        raise ValueError("A sheet that is begun lies about: allow 1 piece or more.")
    return count


_SECONDS: Final[dict[str, Any]] = {
    "write": lambda seconds, _: str(seconds),
    "read": lambda text, _: parse_count(text),
}
_LENGTH: Final[dict[str, Any]] = {
    "write": lambda ticks, style: size_text(ticks, style) or "0",
    "read": not_negative,
}
_LIMIT: Final[dict[str, Any]] = {
    "write": lambda ticks, style: size_text(ticks, style) or NO_LIMIT,
    "read": lambda text, style: 0 if _is_no_limit(text) else not_negative(text, style),
}
_KERF: Final[dict[str, Any]] = {
    "write": lambda ticks, style: measured_text(ticks, style) or "0",
    "read": not_negative,
}


def _named(what: str) -> dict[str, Any]:
    return {
        "practised": False,
        "write": lambda name, _: name,
        "read": lambda text, _: words(text, what),
    }


def _table(shop: Shop) -> TableSaw:
    return shop.table or usual_table(LengthStyle().unit)


def _of_table(words_: str, field: str, **more: Any) -> Figure:
    """Return a figure of the table saw."""

    def put(shop: Shop, value: Any) -> Shop:
        change: dict[str, Any] = {field: value}
        return replace(shop, table=replace(_table(shop), **change))

    def get(shop: Shop) -> Any:
        return getattr(_table(shop), field)

    return Figure(words=words_, field=f"table.{field}", get=get, put=put, **more)


def _of_guide(words_: str, end: str, **more: Any) -> Figure:
    def put(shop: Shop, value: Any) -> Shop:
        change: dict[str, Any] = {end: value}
        return replace(shop, guide=replace(shop.guide or Span(most=0), **change))

    def get(shop: Shop) -> Any:
        return getattr(shop.guide or Span(most=0), end)

    return Figure(words=words_, field=f"guide.{end}", get=get, put=put, **more, **_LENGTH)


def _of_fence(words_: str, end: str, **more: Any) -> Figure:
    def put(shop: Shop, value: Any) -> Shop:
        change: dict[str, Any] = {end: value}
        table = _table(shop)
        return replace(shop, table=replace(table, fence=replace(table.fence, **change)))

    def get(shop: Shop) -> Any:
        return getattr(_table(shop).fence, end)

    return Figure(words=words_, field=f"fence.{end}", get=get, put=put, **more, **_LENGTH)


SAW: Final = (
    _plain("saw", "tool", tip="What you call it; it stands on every cut", **_named("saw")),
    _plain("kerf", "kerf", reason="kerf", tip="Width of the slot it saws", **_KERF),
)
OVERHANG: Final = _plain(
    "overhang of the rail",
    "overhang",
    reason="overhang",
    tip="How much longer than the cut a rail has to be",
    **_LENGTH,
)
GUIDE: Final = (
    _of_guide("guide from", "least", tip="The least width the guide can be set to"),
    _of_guide("guide to", "most", reason="guide", tip="The most the guide can be set to"),
)
PIECES: Final = (
    _plain(
        "least width that carries the rail",
        "carry",
        reason="carry",
        tip="Of a piece, at right angles to the cut; 0 for no limit",
        **_LIMIT,
    ),
    _plain(
        "smallest piece to hold",
        "hold",
        reason="hold",
        tip="Least long side of a piece that can be held under the saw; 0 for no limit",
        **_LIMIT,
    ),
    _plain(
        "lifted alone",
        "lift_g",
        reason="lift_g",
        tip="The heaviest piece you lift without help; 0 for no limit",
        write=lambda grams, style: format_weight(grams, style.unit) if grams else NO_LIMIT,
        read=lambda text, style: 0 if _is_no_limit(text) else parse_weight(text, style.unit),
    ),
)
TABLE: Final = (
    _of_table("table saw", "tool", tip="What you call it", **_named("table saw")),
    _of_table("kerf of the table saw", "kerf", reason="table.kerf", tip="Its slot", **_KERF),
    _of_fence("fence from", "least", tip="The least width the fence can be set to"),
    _of_fence("fence to", "most", reason="fence", tip="The most the fence can be set to"),
    _plain(
        "oversize at the rail",
        "oversize",
        reason="oversize",
        tip="How much larger both ways a part is cut that is finished at the table saw",
        **_LENGTH,
    ),
)
PACE: Final = (
    _plain(
        "seconds for a cut", "cut_s", reason="cut_s", tip="One pass and its marking", **_SECONDS
    ),
    _plain(
        "seconds for a set-up",
        "setup_s",
        reason="setup_s",
        tip="Setting a guide or stop to another size",
        **_SECONDS,
    ),
    _plain(
        "seconds more for a skim cut",
        "skim_s",
        reason="skim_s",
        tip="A cut in which the blade runs half in air",
        **_SECONDS,
    ),
    _plain(
        "seconds more for an unguided rip",
        "unguided_s",
        reason="unguided_s",
        tip="A rip the guide cannot be set to",
        **_SECONDS,
    ),
)
LOOSE: Final = _plain(
    "loose pieces at most",
    "loose",
    reason="loose",
    tip="Pieces that may lie about, begun and not finished",
    write=lambda count, _: str(count),
    read=_read_loose,
)
KEEPING: Final = (
    _plain("long side at least", "keep_length", tip="Of an offcut worth keeping", **_LENGTH),
    _plain(
        "short side at least",
        "keep_width",
        reason="keep",
        tip="Of an offcut worth keeping",
        **_LENGTH,
    ),
)
