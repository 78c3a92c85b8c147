"""How much edge band a job takes: every strip overhangs, some is wasted, rolls are whole.

Common practice (workshop notes, section 5): a strip is cut longer than its edge so that both
ends can be trimmed flush, a tenth is added, and the sum is rounded up to whole rolls. Rolls of
25, 50 and 250 ft are those of a published range; metric rolls are from memory.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from shared.lengths import INCH, MM, Length
from shared.parts import Part
from shared.units import Unit

OVERHANG = {Unit.INCH: 2 * INCH, Unit.MM: 40 * MM}
"""What a strip is longer than its edge, both ends together."""
WASTE_PERCENT = 10
FOOT = 12 * INCH
ROLLS = {
    Unit.INCH: (25 * FOOT, 50 * FOOT, 250 * FOOT),
    Unit.MM: (10_000 * MM, 25_000 * MM, 50_000 * MM),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class BandNeed:
    """What is needed of bands of one thickness; lengths in ticks.

    Attributes
    ----------
    strips
        How many edges are banded.
    net, cut, with_waste
        Length of all edges; of all strips with their overhang; the same and a tenth more.
    rolls, roll
        How many rolls of which length to buy.
    """

    thickness: Length
    strips: int
    net: Length
    cut: Length
    with_waste: Length
    rolls: int
    roll: Length


def band_needs(parts: Sequence[Part], unit: Unit) -> tuple[BandNeed, ...]:
    """Return what is needed of each thickness of band, the thinnest first."""
    edges = sorted(edge for part in parts for edge in _edges(part))
    return tuple(
        _need(thickness, [length for _, length in group], unit)
        for thickness, group in groupby(edges, key=lambda edge: edge[0])
    )


def _edges(part: Part) -> Iterator[tuple[Length, Length]]:
    """Yield thickness of band and length of each banded edge of all copies of a part."""
    bands = part.bands
    sides = (
        (bands.top, part.length),
        (bands.bottom, part.length),
        (bands.left, part.width),
        (bands.right, part.width),
    )
    for thickness, length in sides:
        if thickness:
            yield from [(thickness, length)] * part.copies


def _need(thickness: Length, edges: Sequence[Length], unit: Unit) -> BandNeed:
    net = sum(edges)
    cut = net + len(edges) * OVERHANG[unit]
    with_waste = -(-cut * (100 + WASTE_PERCENT) // 100)
    rolls, roll = _rolls(with_waste, ROLLS[unit])
    return BandNeed(
        thickness=thickness,
        strips=len(edges),
        net=net,
        cut=cut,
        with_waste=with_waste,
        rolls=rolls,
        roll=roll,
    )


def _rolls(length: Length, sold: Sequence[Length]) -> tuple[int, Length]:
    """Return the shortest single roll that does, or else as many of the longest as it takes."""
    for roll in sold:
        if roll >= length:
            return 1, roll
    return -(-length // sold[-1]), sold[-1]
