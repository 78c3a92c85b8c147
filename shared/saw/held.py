"""What holds the size of a record, and whether it has to be set: reckoned anew, cut by cut."""

from collections.abc import Iterator
from typing import Final

from shared.lengths import MM, Length
from shared.making.record import Bed, CutRecord, Way
from shared.making.settings import Device
from shared.plan import Cut, CutKind
from shared.saw.laid import Lies
from shared.shop import Axis, RunsOn, Shop, Span

_LETTERS: Final = {Device.GUIDE: "G", Device.STOP: "S", Device.FENCE: "F"}


def device_there(cut: Cut, axis: Axis, there: Lies, shop: Shop, led: tuple[Way, Bed]) -> Device:
    """Say what can hold the size: only what lies under the rail, or along a sawn edge."""
    way, bed = led
    if cut.kind is CutKind.TRIM:
        return Device.MARK
    if way is Way.FENCE:
        held = shop.table is None or reaches(shop.table.fence, cut.size)
        return Device.FENCE if held else Device.BOTH_ENDS
    if way is Way.EDGE_GUIDE:
        return Device.GUIDE
    if way is Way.STRAIGHTEDGE or bed is not Bed.KEEP or shop.rail_width > cut.size:
        return Device.BOTH_ENDS
    if axis is Axis.RIP:
        short = shop.guide is not None and there.long < 200 * MM and there.long < cut.size
        guided = reaches(shop.guide, cut.size) and not short
        return Device.GUIDE if guided else Device.BOTH_ENDS
    moved = shop.lift_g == 0 or there.grams <= shop.lift_g
    asked = shop.square > 0 or shop.stop is not None
    square = not asked or there.long <= 2 * shop.square
    stopped = moved and square and reaches(shop.stop, cut.size)
    return Device.STOP if stopped else Device.BOTH_ENDS


def reaches(span: Span | None, size: Length) -> bool:
    """Say whether something can be set to a size; ``None`` sets no limit."""
    return span is None or span.least <= size <= span.most


class SetUps:
    """What is set as the cuts go on, and which names settings have."""

    def __init__(self, shop: Shop) -> None:
        self._straightedge = shop.runs_on is RunsOn.STRAIGHTEDGE
        self._names: dict[tuple[Device, str, Length], str] = {}
        self._given: dict[Device, int] = {}
        self._stands: tuple[Device, str, Length] | None = None
        self._last: tuple[Device, str, Length] | None = None
        self._first: CutRecord | None = None
        self._served = 0

    def take(self, record: CutRecord, *, changed: bool) -> Iterator[tuple[CutRecord, str]]:
        """Go on to a cut, for which another rail is in hand or not; yield what is said wrong."""
        setting = record.setting
        what = setting.device, setting.tool, setting.size
        if what not in self._names:
            self._given[setting.device] = self._given.get(setting.device, 0) + 1
            letter = _LETTERS.get(setting.device, "")
            self._names[what] = f"{letter}{self._given[setting.device]}" if letter else ""
        if setting.name != self._names[what]:
            yield record, f"its setting is {self._names[what] or 'nameless'}, not {setting.name}"
        if self._lost(record, changed=changed):
            self._stands = None
        is_set = setting.device in _LETTERS
        anew = is_set and what != self._stands
        if record.anew is not anew:
            yield record, "what is set was lost or is another" if anew else "it is set already"
        if record.again is not (anew and what == self._last):
            yield record, "whether it was set so last is not as it says"
        if is_set:
            self._last = what
        if anew:
            yield from self.end()
            self._stands, self._first, self._served = what, record, 0
        elif record.proves:
            yield record, "it is not the first of its set-up"
        self._served += is_set

    def end(self) -> Iterator[tuple[CutRecord, str]]:
        """Go on to another set-up, or to the end; the first of several cuts proves it."""
        if self._first is not None and self._first.proves is not (self._served > 1):
            yield self._first, f"its set-up serves {self._served} cuts"
        self._first = None

    def _lost(self, record: CutRecord, *, changed: bool) -> bool:
        if self._stands is None or self._stands[0] is Device.FENCE:
            return False
        return record.bed is not Bed.NONE if self._straightedge else changed
