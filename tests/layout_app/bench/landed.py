"""Where the hand lays a part with nobody asked whether it can be cut: the best free place."""

from layout_app.model.landing import Field, Snapped, kept_inside, rounded
from layout_app.model.stops import SnapGround
from shared.geometry import Rect
from shared.lengths import Length


def snap(rect: Rect, ground: SnapGround, reach: Length, pieces: tuple[Rect, ...] = ()) -> Snapped:
    """Return the best free place within ``reach`` ticks, else the nearest on whole steps."""
    place = rounded(kept_inside(rect, ground.usable), ground)
    return next(Field(rect, ground, pieces).landings(rect, reach), Snapped(rect=place))
