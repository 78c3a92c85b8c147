"""How a card reads: what its pictures and words mean, as far as the job needs it."""

from collections.abc import Iterator

from layout_app.paper.matter import Matter
from shared.lengths import Unit
from shared.making.record import Guard
from shared.shop import RunsOn, Support

_SEEN = {
    RunsOn.RAIL: "The grey band is the rail, its heavy edge where the saw runs. It is broken off"
    " where more of it stands free.",
    RunsOn.STRAIGHTEDGE: "The grey band is the straightedge, the thin line beside it is the cut. A"
    " heavy line along the V edge is the edge guide.",
}
_DONE = {
    RunsOn.RAIL: (
        "Guide and stop sit on the rail. They touch the edge or end that the size is measured"
        " from. Where one holds the size, the rail's edge is the line. Flip them up for a cut that"
        " is marked.",
        "The plan counts on one thing set at a time. Setting the stop undoes the guide; another"
        " rail in hand undoes either. The card then says Set once more. If yours keep their"
        " settings, you save those minutes.",
        "Mark: no device holds the size. At both ends or edges: measure it"
        " twice, lay the rail on both marks. At the reference edge: begin there, and lay it"
        " square.",
        "Rail on the other side, one kerf past the line: the line shows beside the"
        " rail, and the blade takes the kerf between.",
    ),
    RunsOn.STRAIGHTEDGE: (
        "Mark: no device holds the size. At both ends or edges: measure it"
        " twice. At the reference edge: begin there, and draw the line square. Clamp the"
        " straightedge at its own size, from the same edge.",
        "The straightedge lies back from the line by what the base takes. Test it on scrap.",
    ),
}


def how_to_read(matter: Matter, *, pictured: bool = True) -> tuple[str, ...]:
    """Return sentences on the cuts of a job, and on their pictures if they have any.

    Common practice.
    """
    return tuple(_how(matter, pictured=pictured))


def _how(matter: Matter, *, pictured: bool) -> Iterator[str]:
    runs_on = matter.job.shop.runs_on
    yield "Go by the numbers. Each card is one cut; tick it when the cut is made."
    yield (
        "In a picture the V marks what the size is measured from: an edge for a rip, an end for a"
        " crosscut."
    )
    yield (
        "Pictures never turn: reference edge at the top, left end at the left."
        " L runs along the sheet's length."
    )
    if any(one.record.mirrored for one in matter.told):
        yield (
            "Show face down: the piece lies turned over, left and right ends changed. The V stands"
            " on the face that is up."
        )
    yield "No face named: leave the piece as it lies, its show face up if it has one."
    yield (
        "Keep (V side): the kerf lies past the line, away from the V. Keep (far side): the kerf"
        " lies before the line, on the V's side."
    )
    if pictured:
        yield _SEEN[runs_on]
        yield (
            "The arrow is where the saw enters. Dashed: the table saw. Hatched one way: an offcut"
            " to keep. Crossed: waste."
        )
    yield "Set: set the device, saw one piece, measure it, then go on. As before: set already."
    yield from _DONE[runs_on]
    if any(Guard.SCORE in one.record.guards for one in matter.told):
        yield (
            "Score: draw a knife along a straight edge on the line that the card names. Or saw"
            " about 1 mm (1/32 in) deep first, as your saw's manual allows. That scores both"
            " edges."
        )
    if runs_on is RunsOn.STRAIGHTEDGE:
        hand = matter.job.shop.rail_side
        yield f"The {hand} edge of the base runs along the straightedge."
    if matter.job.shop.support is Support.HORSES:
        yield (
            "Lay two long boards over the sawhorses, across the line, as long as the piece."
            " Bearers lie over these, along the line, longer than the cut."
        )
        yield f"Beside the line: about {_beside(matter)} from it, clear of the blade."
        yield "A narrow strip of waste drops: never catch it."
    if any(one.checks for one in matter.told):
        yield (
            "Measure a part that is what remains before others are cut to go with it. Wider or"
            " longer: trim it. Smaller: pencil its true size on it, and fit its partners to that."
        )
    yield "Next: the piece is sawn at the next cut. On the stack: set it aside until then."
    yield (
        "Pencil on each piece its name. Put REF at its reference edge, LEFT at its left"
        " end as it lies. Do so again at a fresh edge."
        " Edges are called as they lay on the sheet."
    )
    yield (
        "Danger has the triangle: something can kick, tip, fall, pinch or be thrown. The H in a"
        " box is handling. Your saw's manual comes first."
    )


def _beside(matter: Matter) -> str:
    return "2 in" if matter.style.unit is Unit.INCH else "50 mm"
