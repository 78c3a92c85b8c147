"""Handling in few words, for pages that explain each caution once by its letter.

What to do and why stands in `shared.telling.minding` and `shared.making.hazards`; here only what
a maker who has read that has to be reminded of, with the figures of this very cut.
"""

from collections.abc import Callable
from typing import Final

from shared.plan import CutKind
from shared.shop import Axis
from shared.telling.minding import SAYINGS, Case
from shared.telling.words import leader


def brief_words(code: str, case: Case) -> str:
    """Return what is said of a rule of handling at one cut; KeyError for a rule of danger."""
    return _PLAIN[code] if code in _PLAIN else _SAYINGS[code](case)


def _narrow_keep(case: Case) -> str:
    rip = case.stroke.axis is Axis.RIP
    return f"measure what you keep at both {'ends' if rip else 'edges'}"


def _narrow_bed(case: Case) -> str:
    bearer = ", on its own bearer" if case.record.bearers else ""
    return f"pack scrap {case.thick} thick beside the piece{bearer}"


def _unguided(case: Case) -> str:
    return SAYINGS["unguided"](case)


def _joined(case: Case) -> str:
    return f"check the joint of the {leader(case.record)}s with a straight edge"


def _skim(case: Case) -> str:
    stroke, slowly = case.stroke, "skim, feed slowly"
    if stroke.cut.kind is CutKind.FINISH:
        return slowly
    uncut = case.size(stroke.cut.size + stroke.dust)
    return f"{slowly}; or leave it uncut, {uncut}"


_PLAIN: Final = {
    "turned-over": "turned over: the ends have changed places",
    "straightedge": "clamp the straightedge to both edges",
    "edge-guide": "clamp the piece, clear of the guide",
    "long-rail": "scrap under both rail ends",
    "thin-trim": "part of the kerf is air, feed slowly",
    "drops": "the waste strip drops, never catch it",
    "large-turn": "clear the floor, turn it flat",
    "dust": "MDF dust: extract it, wear a mask",
}
_SAYINGS: Final[dict[str, Callable[[Case], str]]] = {
    "narrow-keep": _narrow_keep,
    "narrow-bed": _narrow_bed,
    "joined": _joined,
    "unguided": _unguided,
    "skim": _skim,
}
