"""The records of all cuts, in sawing order: what is in hand and what is set goes from one on."""

from collections.abc import Sequence
from itertools import chain

from shared.making.entry import entry_of
from shared.making.faces import FacesUp
from shared.making.outcome import Outcomes
from shared.making.rails import RailsInHand, bed_of
from shared.making.record import CutRecord, Face
from shared.making.settings import Setting, name_settings
from shared.making.straightedge import way_of
from shared.making.strokes import Stroke, strokes
from shared.plan import Keep, Plan
from shared.shop import Shop
from shared.weighing import grams


def records(plans: Sequence[Plan], shop: Shop) -> tuple[CutRecord, ...]:
    """Return the record of every cut, in sawing order.

    Parameters
    ----------
    plans
        Accepted by the simulated saw, in the order in which they are sawn: each goes on
        numbering, and what is set or in hand goes on from one to the next.
    shop
        Its saws, rails, devices and limits.
    """
    made = [(plan, tuple(strokes(plan))) for plan in plans]
    settings = name_settings(chain.from_iterable(its for _, its in made), shop)
    recorder = _Recorder(shop, settings)
    found: list[CutRecord] = []
    for plan, its in made:
        outcomes, faces = Outcomes(plan), FacesUp(plan, its, shop)
        found += [recorder.record(stroke, outcomes, faces) for stroke in its]
    return tuple(found)


class _Recorder:
    """Goes through the cuts in order."""

    def __init__(self, shop: Shop, settings: dict[int, Setting]) -> None:
        self._shop, self._settings = shop, settings
        self._rails = RailsInHand(shop)
        self._set: Setting | None = None
        self._since: dict[str, int] = {}

    def record(self, stroke: Stroke, outcomes: Outcomes, faces: FacesUp) -> CutRecord:
        """Return the record of the next cut."""
        shop, bed, way = self._shop, bed_of(stroke, self._shop), way_of(stroke, self._shop)
        lying = faces.lay(stroke, way, bed)
        mirrored = lying.up is Face.BACK
        setting = self._settings[stroke.cut.number]
        anew = bool(setting.name) and setting != self._set
        self._set = setting if setting.name else self._set
        near, far = outcomes.near(stroke), outcomes.far(stroke)
        makes, left = (far, near) if stroke.cut.keep is Keep.FAR else (near, far)
        assert makes is not None
        cut = stroke.cut
        since = self._since.get(cut.piece, 0)
        self._since |= dict.fromkeys(filter(None, (cut.piece, cut.off)), cut.number)
        return CutRecord(
            stroke=stroke,
            since=since,
            grams=_grams(stroke),
            makes=makes,
            left=left,
            way=way,
            rail=self._rails.lay(stroke, bed),
            bed=bed,
            setting=setting,
            anew=anew,
            squared=None,
            checks=(),
            position=_position(stroke),
            entry=entry_of(stroke, bed, shop.rail_side, mirrored=mirrored),
            up=lying.up,
            turn_over=lying.turn_over,
            face_matters=lying.matters,
            guards=lying.guards,
            support=shop.support,
            hazards=(),
        )


def _position(stroke: Stroke) -> int | None:
    """A cut of the whole sheet is laid out before anything moves."""
    whole = stroke.cut.piece == stroke.sheet.id and stroke.cut.level == 1
    return stroke.cut.running if whole else None


def _grams(stroke: Stroke) -> int:
    sheet, piece = stroke.sheet, stroke.piece
    return grams(piece.length, piece.width, sheet.thickness, sheet.density)
