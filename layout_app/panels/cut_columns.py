"""The columns of the cut table: what an instruction says, field by field."""

from typing import Final

from layout_app.panels.cards import Card

HEADINGS: Final = (
    *("made", "no.", "cut", "sheet", "set", "running", "length of cut", "off", "mind"),
    *("keep", "stays", "saw", "rail", "show face", "tear-out", "support", "weight"),
)
WIDE: Final = (
    "made",
    "000",
    "Last trim 1a1a1",
    "sheet",
    "G10: guide 34 19/32",
    "34 19/32 - 0.003",
    "34 19/32 - 1/64 in",
    "1a1a1: Case top, bottom 12, to be",
    "Joined rails: lay a straightedge along them; a kink at the joint",
    "1a1, the side towards the reference edge (the V)",
    "1a1: sawn further, cut 100",
    "rail saw, rail of 106 5/16 in",
    "on 1a1 and on scrap 3/4 in thick, packed behind it",
    "up, the keep side under the rail",
    "top edge of 1a1, beside the rail; across the grain, so",
    "foam, or four bearers, two each side of the line: under 1a and",
    "100 kg",
)
"""Samples of the widest usual text, for the columns' widths."""


def fields(card: Card) -> tuple[str, ...]:
    """Return what each column says of a cut; the first, whether it is made, is a box to tick."""
    told = card.told
    mind = " ".join(caution.sentence for caution in told.cautions)
    long = told.long.removesuffix(" long")
    return (
        *(str(told.number), told.title, told.sheet, card.label, told.running, long),
        *(told.off, mind, told.keep, told.stays, told.tool, told.bed, told.face),
        *(told.tear_out, told.support, told.weight),
    )
