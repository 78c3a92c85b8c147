"""Cautions in general words, without the figures of a cut: what to do wherever a rule applies.

Said once at the front of a pack and in a published plan; the cut says it with its own figures.
"""

from typing import Final

from shared.telling.minding import PLAIN

IN_GENERAL: Final[dict[str, str]] = {
    "no-rail": "No rail or straightedge reaches: join rails, or borrow a longer one.",
    "packed": "Neither side carries the rail: pack scrap as thick beside it, and clamp both.",
    "free-rail": "The rail rests on little and tips: support both its ends.",
    "overhang": "Rail hardly longer than the cut: hold the base flat until all of it rests.",
    "small": "Small piece: clamp it, never hold it by hand.",
    "small-side": "What is cut off is too short to hold by hand: clamp it.",
    "fence": "Outside the fence's range: use a sled, never saw freehand.",
    "push-stick": "Little room between fence and blade: use the push stick.",
    "sag": "Thin sheet: more bearers, so that nothing sags at the line.",
    "table": "Straight edge on the fence; riving knife, guard and push stick in place.",
    "straightedge": "Clamp the straightedge to both edges, clear of the motor; base flat.",
    "short-for-base": "Cut too short for base and clamps: pack scrap as thick at both sides.",
    "narrow-for-base": "The base tips on so narrow a piece: pack scrap as thick past the waste.",
    "base-off": "Less than half the base rests: pack scrap as thick past the waste.",
    "edge-guide": "Clamp the piece, clear of the guide; the edge it follows must be straight.",
    "heavy": "Heavier than you can lift: get help, or saw it where it lies.",
    "turn": "Heavier than you can turn: get help.",
    "turn-heavy": "Heavy piece to turn: keep one end down, or get help.",
    "carry-away": "What comes off is heavy: get help, or lower one end at a time.",
    "narrow-keep": "Little is kept, the rail is on the other side: measure both ends.",
    "long-rail": "The rail is longer than the piece: support both its ends.",
    "narrow-bed": "Little lies under the rail: pack scrap of the same thickness beside it.",
    "joined": "Joined rails: check the joint with a straight edge.",
    "unguided": "No guide or stop holds the size: mark it.",
    "thin-trim": "Thin trim: only part of the kerf is wood, feed slowly.",
    "skim": "Skim: only part of the kerf is wood, feed slowly.",
}
"""What to do by the rules that have figures at a cut, or more to say there, by code."""


def in_general(code: str) -> str:
    """Return what to do wherever the rule of that code applies."""
    return IN_GENERAL.get(code) or PLAIN[code]
