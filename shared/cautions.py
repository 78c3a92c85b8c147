"""What holds at every cut: general practice, not a substitute for the saw's own manual.

It follows workshop practice as power-tool manuals and safety agencies print it; where the
manual of the saw says otherwise, the manual is right. What only some cuts have to mind is
said there, from `shared.making.hazards`.
"""

from typing import Final

from shared.shop import RunsOn, Shop, Support

DEFER: Final = (
    "Your saw's manual comes first, then local codes. Leave wiring, plumbing and structure to"
    " licensed trades. Ripfirst cannot see your set-up."
)
"""What stands with every plan."""

CAUTIONS: Final = (
    "Wear eye and ear protection, and a rated mask with extraction at the saw: wood dust harms.",
    "Guards work, and the lower one returns by itself: try it before the first cut.",
    "Set depth so that less than a full tooth shows below the sheet.",
    "Support both sides of every cut to its end; a kerf that closes on the blade kicks back.",
    "If the kerf closes, stop, wait for the blade, then wedge it open.",
    "No bearer, clamp, cord or hose in the blade's path.",
    "Stand beside the line of the cut, hands well away, and let the blade stop before you lift"
    " the saw.",
    "Take the battery out, or pull the plug, before you change a blade.",
    "No gloves, no loose sleeves near a turning blade.",
    "Full sheets are heavy and have no grip: lift with help, or break them down where they lie.",
)
"""For screen, paper and the summary, whatever the shop; one sentence each."""

RAIL: Final = "Clamp the rail, or lay it on its non-slip strips; see that it lies flat."
STRAIGHTEDGE: Final = (
    "Clamp the straightedge to both edges of the piece, clear of the motor; keep the base flat."
)
TABLE: Final = (
    "At the table saw: riving knife and guard in place, a straight edge on the fence, a push stick"
    " at hand; no crosscut against the fence without a sled or mitre gauge."
)
SUPPORT: Final = {
    Support.HORSES: "On sawhorses bearers lie along the line of each cut: beside it on both sides,"
    " and near both ends of the piece.",
    Support.GRID: "On a slatted grid walk round the sheet; saw the slats no deeper than the blade"
    " shows below.",
    Support.FOAM: "On foam the blade goes about 3 mm (1/8 in) into it; walk round, turn nothing.",
}


def cautions_for(shop: Shop) -> tuple[str, ...]:
    """Return what holds at every cut in a shop: by its saw, its support, and its table saw."""
    led = RAIL if shop.runs_on is RunsOn.RAIL else STRAIGHTEDGE
    table = () if shop.table is None else (TABLE,)
    return (*CAUTIONS, led, SUPPORT[shop.support], *table)
