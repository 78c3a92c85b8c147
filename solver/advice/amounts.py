"""How much shorter a part may get, and in which steps."""

from shared.lengths import INCH, MM, Length, LengthStyle, Unit

SHORTEN_UP_TO = {Unit.MM: 25 * MM, Unit.INCH: INCH}
"""How much shorter a part may get if the maker does not say (common practice: no rule)."""


def step_of(style: LengthStyle) -> Length:
    """Return the step in which parts are shortened: 1 mm, or 1/16 in."""
    return MM if style.unit is Unit.MM else INCH // 16


def most_shorter(style: LengthStyle, shorten_up_to: Length | None) -> Length:
    """Return how much shorter a part may get at most."""
    return SHORTEN_UP_TO[style.unit] if shorten_up_to is None else shorten_up_to
