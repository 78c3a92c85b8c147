"""The records of all cuts, in sawing order: what is in hand and what is set goes from one on."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import lru_cache, partial
from itertools import chain, groupby
from typing import Final, NamedTuple

from shared.lengths import Length
from shared.making.bearing import bearers_of
from shared.making.devices import Led, led, loses, name_settings
from shared.making.entry import entry_of
from shared.making.faces import FacesUp, Lying
from shared.making.hazards import hazards_of
from shared.making.lifting import Moved, OnSupport
from shared.making.outcome import Outcomes, Side
from shared.making.rail_choice import Rails, Taken
from shared.making.rails import RailsInHand, checked_with, laid_over
from shared.making.record import CutRecord, Face, SheetCheck, SizeCheck, Way
from shared.making.remainders import Remainders
from shared.making.settings import Setting
from shared.making.squaring import SheetChecks, squared_of
from shared.making.strokes import Stroke, strokes
from shared.plan import Keep, Plan
from shared.remembered import Remembered
from shared.shop import Hand, Shop

CUTS_KNOWN: Final = 8192
"""How each of so many cuts is made is remembered: most stay as they are when a plan is changed."""


def records(plans: Sequence[Plan], shop: Shop) -> tuple[CutRecord, ...]:
    """Return the record of every cut, in sawing order.

    Parameters
    ----------
    plans
        Accepted by the simulated saw, in the order in which they are sawn: each goes on
        numbering, and what is set or in hand goes on from one to the next.
    shop
        Its saws, rails, devices and limits; what was sawn before the last plan was sawn with the
        shop that it was made for.
    """
    found: list[CutRecord] = []
    for its_shop, group in groupby(zip(plans, shops_of(plans, shop), strict=True), _shop_of):
        found += _sawn_with(its_shop, [plan for plan, _ in group])
    return tuple(found)


def shops_of(plans: Sequence[Plan], shop: Shop) -> tuple[Shop, ...]:
    """Return with which shop each plan is sawn, of several in sawing order.

    The last one with that given; those before it are history, sawn with their own.
    """
    return (*(plan.shop or shop for plan in plans[:-1]), *([shop] if plans else []))


def _shop_of(sawn: tuple[Plan, Shop]) -> Shop:
    return sawn[1]


def _sawn_with(shop: Shop, plans: Iterable[Plan]) -> Iterator[CutRecord]:
    """Yield the records of plans that are sawn one after the other with the same shop."""
    its = tuple(plans)
    for plan, handled in zip(its, handled_in(shop, *its), strict=True):
        recorder = _Recorder(plan, [one.readied.stroke for one in handled], shop)
        yield from map(recorder.record, handled)


class Readied(NamedTuple):
    """What is taken in hand and set for a cut; ``setting`` to ``again`` as in `CutRecord`."""

    stroke: Stroke
    led: Led
    rail: Taken | None
    setting: Setting
    anew: bool
    again: bool


def ready(found: Iterable[Stroke], shop: Shop) -> tuple[Readied, ...]:
    """Return for cuts in sawing order what is in hand and set, going on from cut to cut."""
    its = tuple(found)
    settings = name_settings(its, shop)
    return tuple(_readied(its, settings, shop))


class InHand(NamedTuple):
    """What goes from cut to cut: the rails, what is set, and what was set last."""

    rails: Rails = Rails()
    standing: Setting | None = None
    last: Setting | None = None


NOTHING_IN_HAND: Final = InHand()
_same = lru_cache(4096)(InHand)
"""Returns one value for all that are equal: from there on everything is as it was before."""


def _readied(
    found: Sequence[Stroke], settings: Mapping[int, Setting], shop: Shop
) -> Iterator[Readied]:
    hand = NOTHING_IN_HAND
    for stroke in found:
        one, hand = _next(shop, hand, stroke, settings[stroke.cut.number])
        yield one


def _ready(shop: Shop, hand: InHand, stroke: Stroke, setting: Setting) -> tuple[Readied, InHand]:
    """Return what is readied for the next cut, and what is in hand then."""
    rails, standing, last = RailsInHand(shop, hand.rails), hand.standing, hand.last
    how = led(stroke, shop)
    rail = rails.take(how.aim.long, how.bed)
    device = None if standing is None else standing.device
    if loses(device, how.bed, shop, change=rail is not None and rail.change):
        standing = None
    anew = bool(setting.name) and setting != standing
    again = anew and setting == last
    if setting.name:
        standing = last = setting
    return Readied(stroke, how, rail, setting, anew, again), _same(rails.rails, standing, last)


_next = Remembered(_ready, CUTS_KNOWN)


def first_of_several(readied: Sequence[Readied]) -> set[int]:
    """Return the numbers of the cuts that are the first of several at one set-up."""
    first, found = 0, set[int]()
    for one in readied:
        if one.anew:
            first = one.stroke.cut.number
        elif one.setting.name:
            found.add(first)
    return found


class Handled(NamedTuple):
    """What is readied for a cut, how its piece lies, and what is done with the piece before.

    ``proves`` says that it is the first of several cuts at one set-up.
    """

    readied: Readied
    lying: Lying
    moved: Moved
    proves: bool


def _handle(shop: Shop, *plans: Plan) -> tuple[tuple[Handled, ...], ...]:
    made = [tuple(strokes(plan)) for plan in plans]
    readied = ready(chain.from_iterable(made), shop)
    proving, going_on = first_of_several(readied), iter(readied)
    found = []
    for plan, its in zip(plans, made, strict=True):
        faces, support = FacesUp(plan, its, shop), OnSupport(shop)
        handled = []
        for _ in its:
            one = next(going_on)
            lying = faces.lay(one.stroke)
            moved = support.move(one.stroke, turn_over=lying.turn_over)
            handled.append(_handled(one, lying, moved, one.stroke.cut.number in proving))
        found.append(tuple(handled))
    return tuple(found)


handled_in = Remembered(_handle, 4)
"""Returns what goes from cut to cut, plan by plan, of plans that are sawn with one shop.

Records say it and minutes are counted from it, so that both ask for the same.
"""


class _Around(NamedTuple):
    """What a record says that hangs on other cuts and on what lies around; as in `CutRecord`.

    ``near`` and ``far`` are the sides towards the reference edge or end, and beyond the cut.
    """

    since: int
    near: Side
    far: Side | None
    sheet_check: SheetCheck | None
    checks: tuple[SizeCheck, ...]
    position: Length | None


class _Recorder:
    """Goes through the cuts of a plan in order."""

    def __init__(self, plan: Plan, its: Sequence[Stroke], shop: Shop) -> None:
        self._shop = shop
        self._outcomes, self._remainders = Outcomes(plan), Remainders(plan)
        self._sheets = SheetChecks(plan, its)
        self._since: dict[str, int] = {}
        self._moved: set[str] = set()

    def record(self, handled: Handled) -> CutRecord:
        """Return the record of the next cut."""
        one = handled.readied
        stroke, cut = one.stroke, one.stroke.cut
        far, since = self._outcomes.far(stroke), self._since.get(cut.piece, 0)
        self._since[cut.piece] = self._since[cut.off] = cut.number
        around = _around(
            since,
            self._outcomes.near(stroke),
            far,
            self._sheet_check(one),
            self._remainders.checks(stroke, far),
            self._position(stroke),
        )
        return _recorded(self._shop, handled, around)

    def _sheet_check(self, one: Readied) -> SheetCheck | None:
        if not self._sheets.is_first(one.stroke):
            return None
        return self._sheets.check(one.stroke, checked_with(one.stroke, one.rail, self._shop))

    def _position(self, stroke: Stroke) -> Length | None:
        """A cut of the whole sheet is laid out before anything moves: before any deeper cut."""
        cut, sheet = stroke.cut, stroke.sheet.id
        if cut.level > 1 or cut.piece != sheet:
            self._moved.add(sheet)
        return None if sheet in self._moved else cut.running


def _record(shop: Shop, handled: Handled, around: _Around) -> CutRecord:
    one, lying, moved, proves = handled
    stroke, (aim, way, bed, device) = one.stroke, one.led
    near, far = around.near, around.far
    makes, left = (far, near) if stroke.cut.keep is Keep.FAR else (near, far)
    assert makes is not None
    mirrored = lying.up is Face.BACK
    hand = Hand.LEFT if way is Way.FENCE else shop.rail_side
    return CutRecord(
        stroke=stroke,
        since=around.since,
        grams=aim.grams,
        makes=makes,
        left=left,
        way=way,
        rail=laid_over(stroke, bed, one.rail, shop),
        bed=bed,
        setting=one.setting,
        anew=one.anew,
        again=one.again,
        proves=proves,
        squared=squared_of(aim, way, device, shop),
        sheet_check=around.sheet_check,
        checks=around.checks,
        position=around.position,
        entry=entry_of(stroke, bed, hand, mirrored=mirrored),
        up=lying.up,
        turn_over=lying.turn_over,
        face_matters=lying.matters,
        guards=lying.guards,
        support=shop.support,
        bearers=bearers_of(stroke, left, way, shop),
        moved=moved,
        find_hazards=partial(hazards_of, shop=shop),
    )


_handled = Remembered(Handled, CUTS_KNOWN)
_around = Remembered(_Around, CUTS_KNOWN)
_recorded = Remembered(_record, CUTS_KNOWN)
"""These return one value for a cut that is made as it was made: so nobody looks at it again."""
