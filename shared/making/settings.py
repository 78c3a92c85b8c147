"""What holds a size: guide, stop and fence with their settings, or marks."""

from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache
from typing import Final

from shared.lengths import Length, LengthStyle, format_mark


class Device(StrEnum):
    """What holds a size at the saw."""

    MARK = "by mark"
    """A trim: measured from the factory edge and marked."""
    GUIDE = "guide"
    """The parallel guide of the rail."""
    STOP = "stop"
    FENCE = "fence"
    """That of the table saw."""
    BOTH_ENDS = "measured at both ends"
    """What neither guide nor stop can hold, or what does not lie under the rail."""


_written = lru_cache(4096)(format_mark)
"""Written whenever the plan changes, and most sizes stay."""

LETTERS: Final = {Device.GUIDE: "G", Device.STOP: "S", Device.FENCE: "F"}
"""What the names of settings begin with; what has none is marked anew at each cut."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """One size at one device of one tool.

    ``name`` is such as ``G1``, for files alone: no page or screen shows it; ``""`` for what is
    marked or measured anew at each cut.
    ``size`` is in ticks.
    """

    device: Device
    tool: str
    size: Length
    name: str = ""

    def label(self, style: LengthStyle) -> str:
        """Say what is set in few words, such as ``Guide 11 7/8``."""
        size = _written(self.size, style)
        if self.name:
            return f"{self.device.capitalize()} {size}"
        return f"{size}, marked" if self.device is Device.BOTH_ENDS else f"Mark {size}"
