"""The usual cautions at the saw: general practice, not a substitute for the saw's own manual.

They follow workshop practice as power-tool manuals and safety agencies print it; where the
manual of the saw says otherwise, the manual is right.
"""

from typing import Final

DEFER: Final = (
    "Follow your saw's manual, local codes and licensed practice first: this plan knows"
    " neither your saw nor your shop."
)
"""The sentence that stands with every plan."""

CAUTIONS: Final = (
    "Wear eye and ear protection, and a rated mask with extraction at the saw: wood dust harms.",
    "Support both sides of every cut to its end; a kerf that closes on the blade kicks back.",
    "Set the blade less than a full tooth below the sheet.",
    "Stand beside the line of the cut, hands well away from it, and let the blade stop before"
    " you lift the saw.",
    "Take the battery out, or pull the plug, before you change a blade.",
    "No gloves, no loose sleeves near a turning blade.",
    "Full sheets are heavy and have no grip: lift with help, or break them down where they lie.",
)
"""For screen, paper and the summary; one sentence each."""
