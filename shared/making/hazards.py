"""What can go wrong at one very cut: one table of rules, each classed, with reason and source.

Danger is what can kick, tip, fall, pinch or be thrown while the saw runs or a piece is moved.
Everything else that is worth a word is handling: the quality of the cut, measuring, comfort,
and what harms slowly. The limits are the maker's own, from the shop; the sources are named as
far as they were read. What holds at every cut stands in `shared.cautions`; the words for a rule
are found in `shared.telling`.
"""

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from typing import Final

from shared.making import hazard_rules as rules
from shared.making.record import CutRecord
from shared.shop import Shop

PRACTICE: Final = "common practice"
SAW_MANUALS: Final = "saw manuals"
RAIL_MANUALS: Final = "guide-rail manuals"
TABLE_MANUALS: Final = "table-saw manuals"
LIFTING: Final = "your own limit; NIOSH names 23 kg (51 lb) for the best case"


class Sort(StrEnum):
    """How much a rule matters."""

    DANGER = "danger"
    """Something can kick, tip, fall, pinch or be thrown."""
    HANDLING = "handling"
    """Quality, measuring, comfort, and what harms slowly."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hazard:
    """One rule.

    Attributes
    ----------
    code
        Its name, by which words are found for it.
    sort
        Danger or handling.
    reason
        What can happen, and why that is the class it is in.
    source
        Where the rule comes from.
    applies
        Whether it applies to a cut in a shop.
    """

    code: str
    sort: Sort
    reason: str
    source: str = PRACTICE
    applies: Callable[[CutRecord, Shop], bool]


def hazards_of(record: CutRecord, shop: Shop) -> tuple[str, ...]:
    """Return the codes of the rules that apply to a cut, the heaviest first."""
    return tuple(rule.code for rule in HAZARDS if rule.applies(record, shop))


_D, _H = Sort.DANGER, Sort.HANDLING

HAZARDS: Final = (
    Hazard(
        code="no-rail",
        sort=_D,
        reason="The saw runs on beyond what leads it, turns in the kerf, and kicks.",
        source=RAIL_MANUALS,
        applies=rules.no_rail,
    ),
    Hazard(
        code="packed",
        sort=_D,
        reason="A rail on too narrow a piece tips with the saw on it.",
        applies=rules.packed,
    ),
    Hazard(
        code="free-rail",
        sort=_D,
        reason="On a bed shorter or narrower than the rail is wide, rail and saw tip over.",
        applies=rules.free_rail,
    ),
    Hazard(
        code="short-for-base",
        sort=_D,
        reason="A base longer than its piece tips going on and coming off; no clamp has room.",
        applies=rules.short_for_base,
    ),
    Hazard(
        code="base-off",
        sort=_D,
        reason="A base that rests on less than its half tips over the line with the saw.",
        applies=rules.base_off,
    ),
    Hazard(
        code="narrow-for-base",
        sort=_D,
        reason="A base wider than its piece tips over the line, and no clamp has room beside it.",
        applies=rules.narrow_for_base,
    ),
    Hazard(
        code="overhang",
        sort=_D,
        reason="The saw begins or ends half beyond what leads it, tips, and kicks.",
        source=RAIL_MANUALS,
        applies=rules.overhang,
    ),
    Hazard(
        code="small",
        sort=_D,
        reason="A piece held by hand moves under the saw, and the hand is near the blade.",
        applies=rules.small,
    ),
    Hazard(
        code="small-side",
        sort=_D,
        reason="What is cut free and cannot be held moves into the blade when the cut ends.",
        applies=rules.small_side,
    ),
    Hazard(
        code="covered",
        sort=_D,
        reason="A piece all under the rail slides with it: no hand can hold it off the blade.",
        applies=rules.covered,
    ),
    Hazard(
        code="twist",
        sort=_D,
        reason="A long narrow strip twists, closes the kerf on the blade, and it kicks.",
        source=SAW_MANUALS,
        applies=rules.twist,
    ),
    Hazard(
        code="sag",
        sort=_D,
        reason="A thin sheet sags at the line and closes the kerf on the blade.",
        source=SAW_MANUALS,
        applies=rules.sag,
    ),
    Hazard(
        code="fence",
        sort=_D,
        reason="Nothing leads the piece: sawn freehand at a table it kicks.",
        source=TABLE_MANUALS,
        applies=rules.fence,
    ),
    Hazard(
        code="table-crosscut",
        sort=_D,
        reason="Across a fence a piece turns, jams between fence and blade, and is thrown.",
        source=TABLE_MANUALS,
        applies=rules.table_crosscut,
    ),
    Hazard(
        code="table-short",
        sort=_D,
        reason="A piece shorter along the fence than it is wide turns, jams, and is thrown.",
        source=TABLE_MANUALS,
        applies=rules.table_short,
    ),
    Hazard(
        code="push-stick",
        sort=_D,
        reason="The pushing hand comes near the blade.",
        source=TABLE_MANUALS,
        applies=rules.push_stick,
    ),
    Hazard(
        code="sliver",
        sort=_D,
        reason="The teeth catch a thin sliver and throw it back along the line.",
        source=TABLE_MANUALS,
        applies=rules.sliver,
    ),
    Hazard(
        code="table-large",
        sort=_D,
        reason="A piece too large for one person tips over the table's edge and binds.",
        applies=rules.table_large,
    ),
    Hazard(
        code="table",
        sort=_D,
        reason="Without a riving knife, or with the offcut held, the kerf closes and throws.",
        source=TABLE_MANUALS,
        applies=rules.table,
    ),
    Hazard(
        code="heavy",
        sort=_D,
        reason="A sheet has no grip: lifted alone it falls, or hurts the back.",
        source=LIFTING,
        applies=rules.heavy,
    ),
    Hazard(
        code="turn",
        sort=_D,
        reason="A heavy piece turned alone slides from its support and falls.",
        source=LIFTING,
        applies=rules.turn,
    ),
    Hazard(
        code="turn-heavy",
        sort=_D,
        reason="A piece too heavy to be lifted slides and falls if both ends leave the support.",
        source=LIFTING,
        applies=rules.turn_heavy,
    ),
    Hazard(
        code="carry-away",
        sort=_D,
        reason="What comes of the cut is carried away or set aside, and is too heavy for one.",
        source=LIFTING,
        applies=rules.carry_away,
    ),
    Hazard(
        code="turned-over",
        sort=_H,
        reason="Left and right end change places: a size is measured from the wrong end.",
        applies=rules.turned_over,
    ),
    Hazard(
        code="straightedge",
        sort=_H,
        reason="A straightedge that slips, or a base that strays from it, spoils the line.",
        applies=rules.straightedge,
    ),
    Hazard(
        code="edge-guide",
        sort=_H,
        reason="The cut copies the edge that the guide follows.",
        applies=rules.edge_guide,
    ),
    Hazard(
        code="narrow-keep",
        sort=_H,
        reason="With the rail on the other side nothing but the mark holds the kept width.",
        applies=rules.narrow_keep,
    ),
    Hazard(
        code="long-rail",
        sort=_H,
        reason="An end of the rail stands free: a saw set on it bends it, and the cut with it.",
        applies=rules.long_rail,
    ),
    Hazard(
        code="narrow-bed",
        sort=_H,
        reason="A rail wider than its bed rocks a little, and the edge is not square.",
        applies=rules.narrow_bed,
    ),
    Hazard(
        code="joined",
        sort=_H,
        reason="A kink at the joint of two rails shows on the sawn edge.",
        applies=rules.joined,
    ),
    Hazard(
        code="unguided",
        sort=_H,
        reason="Nothing is set: the size is what is marked at both ends.",
        applies=rules.unguided,
    ),
    Hazard(
        code="thin-trim",
        sort=_H,
        reason="With wood on one side only the blade wanders and the edge is not straight.",
        applies=rules.thin_trim,
    ),
    Hazard(
        code="skim",
        sort=_H,
        reason="With wood on one side only the blade wanders; the cut may be left out.",
        applies=rules.skim,
    ),
    Hazard(
        code="drops",
        sort=_H,
        reason="Who catches a falling strip reaches past a blade that still turns.",
        applies=rules.drops,
    ),
    Hazard(
        code="large-turn",
        sort=_H,
        reason="A large piece wants room around it to be turned.",
        applies=rules.large_turn,
    ),
    Hazard(
        code="dust",
        sort=_H,
        reason="Fine dust harms over years, not in the moment; so does that of all wood.",
        source="NIOSH and IARC on wood dust",
        applies=rules.dust,
    ),
)
"""Every rule, the heaviest first, all dangers before all handling."""

BY_CODE: Final = {rule.code: rule for rule in HAZARDS}
