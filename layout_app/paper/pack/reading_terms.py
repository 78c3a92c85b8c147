"""The terms of a job's pages: what each means, and of what of the job its picture is made."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from layout_app.paper.matter import Matter
from layout_app.paper.pack import pictures
from layout_app.paper.pack.end_views import bearers_picture, leads_picture
from layout_app.paper.pack.rule_picture import between_marks, rule_picture
from layout_app.paper.panels.gathering import panels_of
from layout_app.paper.panels.saying import BarKind, RowWords, telling_of, words_of
from shared.geometry import Rect
from shared.lengths import INCH, MM, Length, Unit
from shared.making import bearing
from shared.making.lifting import Moved
from shared.making.outcome import PieceFate, Side
from shared.making.record import Bed, Guard, Way
from shared.making.settings import Device
from shared.shop import Axis, RunsOn
from shared.telling import Instruction
from shared.telling.words import piece_name

Chain = tuple[tuple[str, Rect], ...]
"""A sheet or piece, one that is sawn from it, one from that, and so on."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Term:
    """What is explained: its name, ``""`` where the picture says it; sentences, and a picture."""

    name: str
    said: tuple[str, ...]
    picture: pictures.Picture | None = None


def terms_of(matter: Matter) -> Iterator[Term]:
    """Yield what has to be explained of a job, in the order in which it is met."""
    if not matter.told:
        return
    yield from _panels(matter)
    yield from _names(matter)
    yield from _edges(matter)
    yield from _leads(matter)
    yield from _marks(matter)
    yield from _sizes(matter)
    yield from _bearers(matter)
    yield from _sheets(matter)
    yield from _turning(matter)
    yield from _care(matter)
    yield Term(name="", said=(), picture=pictures.legend_picture(_leader(matter)))


def _leader(matter: Matter) -> str:
    return "rail" if matter.job.shop.runs_on is RunsOn.RAIL else "straightedge"


# --- panels, bars and boxes ------------------------------------------------------------


def _panels(matter: Matter) -> Iterator[Term]:
    row = _set_row(matter)
    said = [
        "Go by the numbers, down each column of the page; tick each cut when made. Drawings of"
        " pieces are not to scale. The arrow at a number is where the saw enters."
    ]
    picture = None
    if row is not None:
        bar = next(one for one in row.bars if one.kind is BarKind.SET)
        passes = [(one.number, one.makes) for one in row.passes[:2]]
        picture = pictures.bar_picture(bar.text, bar.more, row.title, passes)
        said.append("Grey bar: do what it says before you saw on. As before: set already.")
        if matter.job.shop.runs_on is RunsOn.RAIL:
            said.append(
                "One thing is set at a time: the stop undoes the guide, another rail undoes either."
                " If yours keep their settings, you save that time."
            )
    yield Term(name="Numbers, boxes and bars", said=tuple(said), picture=picture)


def _set_row(matter: Matter) -> RowWords | None:
    """Return a row that something is set for: the first of several passes, if there is one."""
    telling = telling_of(matter)
    found = None
    for panel in panels_of(matter.told):
        for row, sayable in zip(panel.rows, words_of(panel, telling).rows, strict=True):
            if any(bar.kind is BarKind.SET for bar in sayable.bars):
                if len(row.passes) > 1:
                    return sayable
                found = found or sayable
    return found


# --- pieces ----------------------------------------------------------------------------


def _names(matter: Matter) -> Iterator[Term]:
    chain = deepest(matter.told)
    if len(chain) < 2:
        return
    pairs = pairwise(chain)
    sawn = ", ".join(f"{child} from {parent}" for (parent, _), (child, _) in pairs)
    yield Term(
        name="Names of pieces",
        said=(
            f"A letter or figure more a cut: {sawn}. Pencil it on the piece. What remains keeps its"
            " name.",
            "Stack: aside until its cut. Stays, or nothing said: the next cut goes through it as it"
            " lies.",
        ),
        picture=pictures.names_picture(chain),
    )


DEEPEST: Final = 4
"""So many pieces are drawn beside each other at most."""


def deepest(told: Sequence[Instruction]) -> Chain:
    """Return a piece that most cuts led to, behind those it was sawn from, the sheet first."""
    made: dict[tuple[str, str], tuple[str, Side]] = {}
    wholes: dict[tuple[str, str], tuple[str, Rect]] = {}
    for one in told:
        whole = piece_name(one.stroke, one.piece), one.stroke.piece
        wholes.setdefault((one.sheet, one.piece), whole)
        for side in (one.record.makes, one.record.left):
            if side is not None and side.name not in {"", one.piece} and _named(side):
                made.setdefault((one.sheet, side.name), (one.piece, side))
    chains = (_chain(key, made, wholes) for key in made)
    return max(chains, key=_seen_well, default=())


def _seen_well(chain: Chain) -> tuple[int, float]:
    """Rank a chain: by its length, then by how broad its narrowest piece is."""
    return len(chain), min(min(rect.length, rect.width) for _, rect in chain)


def _named(side: Side) -> bool:
    return side.rect.area > 0 and side.end is not PieceFate.WASTE


def _chain(
    key: tuple[str, str],
    made: dict[tuple[str, str], tuple[str, Side]],
    wholes: dict[tuple[str, str], tuple[str, Rect]],
) -> Chain:
    sheet, name = key
    found: list[tuple[str, Rect]] = []
    while (sheet, name) in made:
        parent, side = made[sheet, name]
        found.append((name, side.rect))
        name = parent
    found.append(wholes[sheet, name])
    return tuple(reversed(found))[:DEEPEST]


def _edges(matter: Matter) -> Iterator[Term]:
    chain = deepest(matter.told)
    name = chain[1][0] if len(chain) > 1 else matter.told[0].piece
    said = (
        "Edges are called as they lay on the sheet, however the piece lies now. Pencil REF and"
        " LEFT on each piece, and again at a fresh edge.",
        "Sizes are measured from the V: from an edge for a rip, from an end for a crosscut.",
        "Keep (V side): the kerf lies past the line. Keep (far side): before it, nearer the V.",
        "Where the saw enters is towards you: push it away from you.",
        "No face named: leave it as it lies.",
    )
    yield Term(
        name="Edges, ends and the V",
        said=said,
        picture=pictures.edges_picture(name),
    )


# --- what leads the saw ----------------------------------------------------------------

_LED: Final = {
    (Way.RAIL, Bed.KEEP): "rail on what you keep, its edge on the line.",
    (Way.RAIL, Bed.WASTE): "rail on the other, one kerf past the line.",
    (Way.RAIL, Bed.PACKED): "neither side carries the rail: scrap as thick beside it.",
    (Way.STRAIGHTEDGE, Bed.KEEP): "straightedge on what you keep, set back.",
    (Way.STRAIGHTEDGE, Bed.WASTE): "straightedge on the other, set back.",
    (Way.STRAIGHTEDGE, Bed.PACKED): "straightedge on piece and scrap, set back.",
    (Way.EDGE_GUIDE, Bed.NONE): "edge guide along the V edge.",
    (Way.FENCE, Bed.NONE): "table saw, dashed: V edge on the fence.",
}
"""Each way in which a saw is led, as the views are numbered."""


def _leads(matter: Matter) -> Iterator[Term]:
    used = {(one.record.way, one.record.bed) for one in matter.told}
    leads = [lead for lead in _LED if lead in used]
    said = [f"{number}: {_LED[lead]}" for number, lead in enumerate(leads, 1)]
    if any(way is Way.STRAIGHTEDGE for way, _ in leads):
        hand = matter.job.shop.rail_side
        said.append(
            f"The {hand} edge of the saw's base runs along the straightedge: test it on scrap."
        )
    if any(way is Way.STRAIGHTEDGE for way, _ in leads):
        said.append("Its outer side may hang over the piece: the clamps hold it.")
    if any(one.record.rail is not None for one in matter.told):
        said.append(
            f"The {_leader(matter)} stands out as far at both ends, if no figures are named."
        )
    if leads:
        picture = leads_picture(leads)
        yield Term(name="Seen from the end of the cut", said=tuple(said), picture=picture)


_BY_HAND: Final = {Device.BOTH_ENDS, Device.MARK}


def _marks(matter: Matter) -> Iterator[Term]:
    marked = [one for one in matter.told if one.setting.device in _BY_HAND]
    if not marked:
        return
    both = [one for one in marked if one.setting.device is Device.BOTH_ENDS] or marked
    rips = [one for one in both if one.stroke.axis is Axis.RIP] or both
    what = _leader(matter)
    up = "; flip guide and stop up" if matter.job.shop.runs_on is RunsOn.RAIL else ""
    said = (
        f"Measure it from the V at both ends, lay the {what} by both marks{up}. Off: from the"
        " factory edge or end.",
        "At the reference edge: one mark there, and the line square from it. Whole end:"
        " the cut clears the factory end all along.",
    )
    yield Term(
        name="Mark",
        said=said,
        picture=pictures.marked_picture(rips[0].size, rip=rips[0].stroke.axis is Axis.RIP),
    )


# --- sizes -----------------------------------------------------------------------------


def _sizes(matter: Matter) -> Iterator[Term]:
    sizes = [one for one in _all_sizes(matter.told) if between_marks(one, matter.style)]
    if not sizes:
        return
    found = next((one for one in sizes if one > LARGE), sizes[0])
    if matter.style.unit is Unit.INCH:
        name = "Shy and strong"
        said = "Shy: a little less than the mark. Strong: more."
    else:
        name, said = "One decimal more", "Such a size lies clearly between two steps of the rule."
    yield Term(name=name, said=(said,), picture=rule_picture(found, matter.style))


LARGE: Final = 200 * MM
"""A size of which it matters where on the rule it lies."""


def _all_sizes(told: Sequence[Instruction]) -> Iterator[Length]:
    """Yield the sizes that are set or made, those that are set first."""
    yield from (one.record.size for one in told)
    for one in told:
        for side in (one.record.makes, one.record.left):
            if side is not None:
                yield from (side.rect.length, side.rect.width)


# --- support ---------------------------------------------------------------------------


def _bearers(matter: Matter) -> Iterator[Term]:
    borne = [one for one in matter.told if one.record.bearers is not None]
    if not borne:
        return
    best = max(borne, key=_telling)
    bearers = best.record.bearers
    assert bearers is not None  # only those were taken
    many, other = len(bearers.keep), len(bearers.other)
    said = [
        f"{many} + {other}: {_bearers_said(many)} under what you keep,"
        f" {_bearers_said(other)} beyond.",
        f"{_about(bearing.BESIDE, matter)} from the line and from the outer edge; the rest evenly"
        f" between, up to {_about(bearing.SPAN, matter)} apart.",
        f"One: under the middle, up to {_about(bearing.ONE, matter)} wide. Narrower than"
        f" {_about(bearing.FALLS, matter)}: a lath as high.",
    ]
    if any(one.record.bearers and not one.record.bearers.other for one in borne):
        said.append("+ 0: the waste strip drops, never catch it.")
    said.append("They lie along the line, longer than the cut, on two boards over the sawhorses.")
    picture = bearers_picture(bearers, best.stroke.kept, best.stroke.other)
    yield Term(name="Bearers", said=tuple(said), picture=picture)


def _telling(one: Instruction) -> tuple[bool, bool, float, int]:
    """Rank a cut by how well its bearers show what the figures mean."""
    bearers, stroke = one.record.bearers, one.stroke
    assert bearers is not None  # only those are ranked
    both = bool(bearers.keep and bearers.other)
    share = min(stroke.kept, stroke.other) / (stroke.kept + stroke.other)
    return both, len(bearers.keep) != len(bearers.other), min(share, ENOUGH), -one.number


ENOUGH: Final = 0.25
"""The share of a narrower side that is seen well."""


def _bearers_said(number: int) -> str:
    return {0: "none", 1: "one", 2: "two", 3: "three", 4: "four"}.get(number, str(number))


def _about(ticks: Length, matter: Matter) -> str:
    """Write a length of common practice in whole inches, or in tens of millimetres."""
    if matter.style.unit is Unit.INCH:
        return f"{round(ticks / INCH)} in"
    return f"{10 * round(ticks / MM / 10)} mm"


def _sheets(matter: Matter) -> Iterator[Term]:
    checked = [one for one in matter.told if one.sheet_check]
    if not checked:
        return
    what = _leader(matter)
    yield Term(
        name="Check a sheet before its first cut",
        said=(
            f"1 {what.capitalize()} along the reference edge: a gap is a bow; the bar says how much"
            " the trim takes away. Slide a short one along.",
            "2 Both long edges. 3 Both ends. 4 Diagonals.",
            "Shorter, or further apart than the bar says: plan again with the sheet as it is.",
            *_straight(checked),
        ),
        picture=pictures.check_picture(),
    )


def _straight(checked: Sequence[Instruction]) -> Iterator[str]:
    """Say what to do of an edge that its trim does not straighten, where there is one."""
    found = [one.record.sheet_check for one in checked if one.record.sheet_check is not None]
    if any(one.straight_first for one in found):
        yield "Crosscut first: straighten a bow before it; equal diagonals do not replace that."
    if any(not one.straight_first and not one.bow for one in found):
        yield "Reference edge not trimmed: if it bows, give it a trim and plan again."


def _turning(matter: Matter) -> Iterator[Term]:
    over = any(one.record.mirrored or one.turn for one in matter.told)
    if any(one.record.moved is Moved.TURNED for one in matter.told):
        yield Term(
            name="Turn a quarter",
            said=("The edge or end named comes towards you.",),
            picture=pictures.turned_picture(over=False),
        )
    if over:
        yield Term(
            name="Turned over, show face down",
            said=(
                "Left end to right: the ends change places. Pencil REF and LEFT on the face that is"
                " up now; ends are called by that.",
            ),
            picture=pictures.turned_picture(over=True),
        )


def _care(matter: Matter) -> Iterator[Term]:
    if any(Guard.SCORE in one.record.guards for one in matter.told):
        yield Term(
            name="Score the line",
            said=(
                "Draw a knife along a straight edge. Or saw 1 mm (1/32 in) deep first, as your"
                " saw's manual allows: that scores both edges.",
            ),
        )
    if any(one.checks for one in matter.told):
        yield Term(
            name="Measure what remains",
            said=(
                "Before others are cut to go with it. Too large: trim it. Smaller: pencil its true"
                " size on it, and fit its partners to that.",
            ),
        )
