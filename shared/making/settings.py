"""Settings of guide, stop and fence: each named once, in order of first use, and reused."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache

from shared.lengths import Length, LengthStyle, format_mark
from shared.making.strokes import Stroke
from shared.plan import CutKind
from shared.shop import Axis, Shop, Span


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
    """A rip that the guide cannot be set to."""


_written = lru_cache(4096)(format_mark)
"""Written whenever the plan changes, and most sizes stay."""

_LETTERS = {Device.GUIDE: "G", Device.STOP: "S", Device.FENCE: "F"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """One size at one device of one tool.

    ``name`` is such as ``G1``; ``""`` for what is marked or measured anew at each cut.
    ``size`` is in ticks.
    """

    device: Device
    tool: str
    size: Length
    name: str = ""

    def label(self, style: LengthStyle) -> str:
        """Say the name and what is set in few words, such as ``G1: guide 11 7/8``."""
        size = _written(self.size, style)
        if self.device is Device.BOTH_ENDS:
            return f"both ends: {size}"
        return f"{self.name}: {self.device} {size}" if self.name else f"{self.device}: {size}"


def name_settings(found: Iterable[Stroke], shop: Shop) -> dict[int, Setting]:
    """Return the setting of each cut by its number; equal settings are the same value.

    Rips of any level share the guide, crosscuts of any level the stop: what is set is a
    size, and how deep in the sheet the piece lay is no matter to it.
    """
    named: dict[tuple[Device, str, Length], Setting] = {}
    counts: Counter[Device] = Counter()
    settings: dict[int, Setting] = {}
    for stroke in found:
        device, tool, size = _device(stroke, shop), stroke.cut.tool, stroke.cut.size
        setting = named.get((device, tool, size))
        if setting is None:
            counts[device] += 1
            letter = _LETTERS.get(device)
            name = "" if letter is None else f"{letter}{counts[device]}"
            setting = Setting(device=device, tool=tool, size=size, name=name)
            named[device, tool, size] = setting
        settings[stroke.cut.number] = setting
    return settings


def _device(stroke: Stroke, shop: Shop) -> Device:
    device = device_of(stroke.cut.kind, stroke.axis, at_table=stroke.at_table(shop))
    reached = device is not Device.GUIDE or within(stroke.cut.size, shop.guide)
    return device if reached else Device.BOTH_ENDS


def device_of(kind: CutKind, axis: Axis, *, at_table: bool) -> Device:
    """Return what holds the size of a cut, if it can be set to it.

    A trim is marked; the fence of the table saw holds rips and crosscuts alike; at the rail the
    guide holds rips and the stop crosscuts (common practice).
    """
    if kind is CutKind.TRIM:
        return Device.MARK
    if at_table:
        return Device.FENCE
    return Device.STOP if axis is Axis.CROSSCUT else Device.GUIDE


def within(size: Length, span: Span | None) -> bool:
    """Say whether a guide or fence can be set to a size; ``None`` sets no limit."""
    return span is None or span.least <= size <= span.most
