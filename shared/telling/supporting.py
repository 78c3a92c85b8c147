"""What both sides of a cut lie on, in words."""

from typing import Final

from shared.lengths import Length
from shared.making.bearing import FALLS
from shared.making.record import Bearers, CutRecord, Edge, Way
from shared.plan import Keep
from shared.shop import Axis
from shared.telling.words import names

BOTH: Final = 2
"""As many bearers as most sides have: beside the line, and near its other end."""
NUMBERS: Final = {3: "three", 4: "four", 5: "five"}
"""As many as a long side has; more are written in figures."""


def support_words(record: CutRecord) -> str:
    """Say what the piece lies on, and where that goes."""
    kept, other = names(record)
    if record.way is Way.FENCE:
        return f"a stand behind the saw for {kept}; {other} free to move away"
    if record.bearers is None:
        return f"{record.support} under both sides"
    return _bearer_words(record, record.bearers)


def _bearer_words(record: CutRecord, borne: Bearers) -> str:
    """Say where bearers go under both sides, and what drops because none goes under it."""
    stroke = record.stroke
    if len(borne.keep) == len(borne.other) == BOTH:
        ends = "edges" if stroke.axis is Axis.RIP else "ends"
        return f"four bearers: beside the line each side, and near both {ends}"
    kept, other = names(record)
    rip, near = stroke.axis is Axis.RIP, stroke.cut.keep is Keep.NEAR
    first, last = (Edge.REFERENCE, Edge.FAR) if rip else (Edge.LEFT, Edge.RIGHT)
    outer, across = (first, last) if near else (last, first)
    said = [_under(kept, stroke.kept, borne.keep, record.lies(outer))]
    if borne.other:
        said.append(_under(other, stroke.other, borne.other, record.lies(across)))
    elif stroke.other:
        said.append("let the waste strip drop")
    return "; ".join(said)


def _under(name: str, wide: Length, at: tuple[Length, ...], end: Edge) -> str:
    if len(at) > BOTH:
        many = NUMBERS.get(len(at), str(len(at)))
        return f"{many} bearers under {name}, evenly from the line to the {end}"
    if len(at) == BOTH:
        return f"two bearers under {name}, beside the line and near the {end}"
    if wide < FALLS:
        return f"a lath as high as the bearers under {name}"
    return f"one bearer under the middle of {name}"
