"""All figures of the shop, in the groups in which they are asked."""

from dataclasses import replace
from typing import Final

from layout_app.panels.shop_figure import (
    HEAVIEST,
    KERF,
    LENGTH,
    LIMIT,
    WEIGHT,
    Figure,
    named,
    of_base,
    of_fence,
    of_span,
    of_table,
    paced,
    plain,
)
from shared.amounts import parse_count
from shared.lengths import Length, LengthStyle
from shared.practice import practised, usual_table, with_kerf
from shared.shop import ABSENT, Hand, RunsOn, Shop, Support

RUNS: Final = {RunsOn.RAIL: "a guide rail", RunsOn.STRAIGHTEDGE: "a clamped straightedge"}
SIDES: Final = {Hand.LEFT: "left of the blade", Hand.RIGHT: "right of the blade"}
SUPPORTS: Final = {
    Support.HORSES: "sawhorses with bearers",
    Support.GRID: "a slatted grid",
    Support.FOAM: "a foam sheet",
}


def with_guide(shop: Shop, style: LengthStyle, *, there: bool) -> Shop:
    """Return the shop with the guide of common practice for its saw, or without one."""
    return replace(shop, guide=practised(shop, style.unit).guide if there else ABSENT)


def with_stop(shop: Shop, style: LengthStyle, *, there: bool) -> Shop:
    """Return the shop with the stop of common practice, or without one."""
    return replace(shop, stop=practised(shop, style.unit).stop if there else ABSENT)


def with_table(shop: Shop, style: LengthStyle, *, there: bool) -> Shop:
    """Return the shop with the table saw of common practice, or without one."""
    return replace(shop, table=usual_table(style.unit) if there else None)


def on_rail(shop: Shop) -> bool:
    """Say whether the saw runs on a guide rail."""
    return shop.runs_on is RunsOn.RAIL


def along(shop: Shop) -> bool:
    """Say whether the saw runs along a straightedge."""
    return shop.runs_on is RunsOn.STRAIGHTEDGE


def _put_kerf(shop: Shop, kerf: Length) -> Shop:
    """Change the kerf; distances of common practice for the old one go with it."""
    return with_kerf(shop, kerf) if along(shop) else replace(shop, kerf=kerf)


def _read_loose(text: str, style: LengthStyle) -> int:
    del style
    count = parse_count(text)
    if count == 0:
        raise ValueError("A sheet that is begun lies about: allow 1 piece or more.")
    return count


NAME: Final = plain("saw", "tool", tip="What you call it; it stands on every cut", **named("saw"))
KERF_OF_SAW: Final = Figure(
    words="kerf",
    field="kerf",
    reason="kerf",
    tip="Width of the slot it saws",
    get=lambda shop: shop.kerf,
    put=_put_kerf,
    **KERF,
)
SAW: Final = (NAME, KERF_OF_SAW)
BASE: Final = (
    of_base(
        "a: left edge to near face",
        "left_near",
        tip="Of the blade; measured as drawn. Entered, b goes with it until you enter b",
        asked=along,
    ),
    of_base(
        "b: left edge to far face", "left_far", tip="Of the blade; measured as drawn", asked=along
    ),
    of_base(
        "c: right edge to near face",
        "right_near",
        tip="Of the blade; measured as drawn. Entered, d goes with it until you enter d",
        asked=along,
    ),
    of_base(
        "d: right edge to far face", "right_far", tip="Of the blade; measured as drawn", asked=along
    ),
    of_base(
        "length of the base",
        "length",
        reason="base",
        tip="Along the cut, from its front to its back",
        asked=along,
    ),
)
RAIL: Final = (
    plain(
        "rail beyond the cut, both ends together",
        "overhang",
        reason="overhang",
        tip="How much longer than the cut a rail has to be",
        asked=on_rail,
        **LENGTH,
    ),
    plain(
        "width of the rail",
        "rail_width",
        reason="rail_width",
        tip="Measured across the rail, its edge strip included; 0 if it does not matter",
        asked=on_rail,
        **LENGTH,
    ),
    plain(
        "width of the straightedge",
        "rail_width",
        reason="straightedge_width",
        tip="Measured across it, clamps not included; 0 if it does not matter",
        asked=along,
        **LENGTH,
    ),
)
GUIDE: Final = (
    of_span(
        "guide from",
        "guide",
        "least",
        tip="The least width the guide can be set to",
        asked=on_rail,
    ),
    of_span(
        "edge guide from",
        "guide",
        "least",
        tip="The least width the edge guide can be set to",
        asked=along,
    ),
    of_span(
        "guide to",
        "guide",
        "most",
        reason="guide",
        tip="The most the guide can be set to",
        asked=on_rail,
    ),
    of_span(
        "edge guide to",
        "guide",
        "most",
        reason="edge_guide",
        tip="From the sawn edge it rides on to the blade's nearer face",
        asked=along,
    ),
)
STOP: Final = (
    of_span("stop from", "stop", "least", tip="The least length the stop can be set to"),
    of_span("stop to", "stop", "most", reason="stop", tip="The most the stop can be set to"),
)
SQUARE: Final = plain(
    "longest square",
    "square",
    reason="square",
    tip="Length of its longer arm; 0 for none",
    **LENGTH,
)
PIECES: Final = (
    plain(
        "narrowest piece the rail may lie on",
        "carry",
        reason="carry",
        tip="At right angles to the cut; 0 for no limit",
        asked=on_rail,
        **LIMIT,
    ),
    plain(
        "narrowest piece to clamp the straightedge to",
        "carry",
        reason="carry_straightedge",
        tip="At right angles to the cut; 0 for no limit",
        asked=along,
        **LIMIT,
    ),
    plain(
        "smallest piece that can be clamped or held",
        "hold",
        reason="hold",
        tip="Least long side of a piece under the saw; 0 for no limit",
        **LIMIT,
    ),
    plain(
        "I can lift",
        "lift_g",
        reason="lift_g",
        tip="The heaviest piece you lift without help; 0 for no limit",
        **WEIGHT,
    ),
    plain(
        "I can turn",
        "turn_g",
        reason="turn_g",
        tip="The heaviest piece you turn on its support without help; 0 for no limit",
        **WEIGHT,
    ),
)
TABLE: Final = (
    of_table("table saw", "tool", tip="What you call it", **named("table saw")),
    of_table("kerf of the table saw", "kerf", reason="table.kerf", tip="Its slot", **KERF),
    of_fence("fence from", "least", tip="The least width the fence can be set to"),
    of_fence("fence to", "most", reason="fence", tip="The most the fence can be set to"),
    of_table(
        "longest piece there",
        "longest",
        tip="You can handle there alone; 0: no whole run is sawn there",
        **LENGTH,
    ),
    of_table("widest piece there", "widest", tip="You can handle there alone", **LENGTH),
    of_table(
        "heaviest piece there",
        "heaviest_g",
        reason="table.pieces",
        tip="You can handle there alone",
        **HEAVIEST,
    ),
    plain(
        "oversize before finishing",
        "oversize",
        reason="oversize",
        tip="How much larger both ways a part is cut that is finished at the table saw",
        **LENGTH,
    ),
)
PACE: Final = (
    paced("cut_s", "Laying the rail on its line and starting the saw"),
    paced("metre_s", "Feeding the saw; a metre is 39 in"),
    paced("setup_s", "Setting guide, stop or fence to a size"),
    paced("lift_s", "Fetching a piece and laying it on its support"),
)
"""What most of the time goes into."""
MORE_PACE: Final = (
    paced("measure_s", "The first of several pieces at one set-up"),
    paced("unguided_s", "Where neither guide nor stop can be set to a size"),
    paced("rail_s", "Putting one rail away and fetching another"),
    paced("join_s", "Joining rails end to end, or parting them"),
    paced("turn_s", "Turning a piece a quarter on its support, or over"),
    paced("heavy_s", "Each lift or turn of what is too heavy for you alone"),
    paced("skim_s", "Where only part of the kerf is in wood"),
)
LOOSE: Final = plain(
    "pieces begun at most",
    "loose",
    reason="loose",
    tip="Pieces that may lie about, begun and not finished",
    write=lambda count, _: str(count),
    read=_read_loose,
)
KEEPING: Final = (
    plain("long side at least", "keep_length", tip="Of an offcut worth keeping", **LENGTH),
    plain(
        "short side at least",
        "keep_width",
        reason="keep",
        tip="Of an offcut worth keeping",
        **LENGTH,
    ),
)
