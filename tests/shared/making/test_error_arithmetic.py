"""Errors of sawn parts, simulated: what a record calls set, and what it says to measure.

The arithmetic of errors is that of any book on measurement: independent errors of standard
deviation e add up to e times the root of their number, equal ones to their number times e. The
figures 11-15/16, 1/4 in, 0.088 in and 1.6 mm are those of the workshop notes, section 4.
"""

import statistics
from collections.abc import Sequence
from fractions import Fraction
from random import Random

import pytest

from shared.lengths import INCH, MM
from shared.making.record import CutRecord
from shared.plan import CutKind, Keep
from tests.shared.making.test_remainders import KERF, recorded

E = Fraction(1, 32)
"""Error of one setting or mark, in inches."""
STRIPS = 9
"""Eight cuts, and the ninth strip is what remains."""
RUNS = 2000


def rips(*, left: int = 0) -> list[CutRecord]:
    """Return the rips of nine strips of 5 in; with ``left`` stock remains beyond the last."""
    wide = STRIPS * 5 * INCH + (STRIPS - 1) * KERF + left
    return [one for one in recorded(wide, 5 * INCH, STRIPS) if one.kind is CutKind.RIP]


def sawn(
    found: Sequence[CutRecord], errors: Sequence[float], kerf: float = 0.0
) -> tuple[list[float], list[float]]:
    """Saw strips one from another; return by how much the set ones and the measured ones are off.

    In inches: each cut is off by its error, and the slot is wider than told by ``kerf``.
    """
    rest = float(Fraction(found[0].stroke.piece.width, INCH))
    kept, measured = [], []
    for record, error in zip(found, errors, strict=True):
        assert record.stroke.cut.keep is Keep.NEAR
        told = Fraction(record.setting.size, INCH)
        kept.append(float(told) + error)
        rest -= kept[-1] + float(Fraction(record.stroke.cut.kerf, INCH)) + kerf
        measured += [rest - float(Fraction(check.size, INCH)) for check in record.checks]
        kept[-1] -= 5.0
    return kept, measured


def test_equal_errors_end_in_the_one_strip_that_is_to_be_measured() -> None:
    """Each cut 1/32 too wide: set strips are 1/32 off, the rest of the run 8 x 1/32 = 1/4."""
    kept, measured = sawn(rips(), [float(E)] * 8)
    assert kept == pytest.approx([1 / 32] * 8)
    assert measured == pytest.approx([-1 / 4])


def test_a_kerf_told_wrong_ends_in_the_one_strip_that_is_to_be_measured() -> None:
    """0.2 mm too much at each of eight cuts is 1.6 mm: none of it in a strip that is set."""
    kept, measured = sawn(rips(), [0.0] * 8, kerf=0.2 * MM / INCH)
    assert kept == pytest.approx([0.0] * 8)
    assert measured == pytest.approx([-1.6 * MM / INCH])


def test_random_errors_grow_with_the_root_of_the_cuts_only_where_it_is_said_to_measure() -> None:
    """For e = 1/32 and n = 8: 0.088 in for the rest, 0.031 for what is set (2000 runs)."""
    rng, found = Random(17), rips()
    runs = [sawn(found, [rng.gauss(0, float(E)) for _ in found]) for _ in range(RUNS)]
    last = statistics.pstdev(measured[0] for _, measured in runs)
    first = statistics.pstdev(error for kept, _ in runs for error in kept)
    assert last == pytest.approx(0.088, rel=0.05)
    assert first == pytest.approx(1 / 32, rel=0.05)


def test_where_stock_is_left_every_strip_is_set_and_nothing_is_to_be_measured() -> None:
    """With 2-5/8 in beyond the last strip there are nine cuts; the offcut takes all errors."""
    rng, found = Random(17), rips(left=INCH * 21 // 8)
    runs = [sawn(found, [rng.gauss(0, float(E)) for _ in found], 0.01) for _ in range(RUNS)]
    assert len(found) == STRIPS
    assert not any(measured for _, measured in runs)
    spread = [statistics.pstdev(kept[place] for kept, _ in runs) for place in range(STRIPS)]
    assert spread == pytest.approx([1 / 32] * STRIPS, rel=0.08)


def parted(wide: Fraction, lines: Sequence[Fraction], before: Fraction) -> list[Fraction]:
    """Return what is left between slots of 1/8 that begin ``before`` their lines, in inches."""
    kerf, start, found = Fraction(1, 8), Fraction(0), []
    for line in lines:
        found.append(line - before - start)
        start = line - before + kerf
    return [*found, wide - start]


def test_lines_at_whole_feet_forget_the_kerf_and_positions_of_a_record_do_not() -> None:
    """48 in: beside lines at 12, 24, 36 a kerf makes 12 and 11-7/8, centred 11-15/16 at both ends.

    The positions told of four strips of 11-7/8 make four of them.
    """
    lines = [Fraction(12), Fraction(24), Fraction(36)]
    even, ends = Fraction(95, 8), Fraction(191, 16)
    assert parted(Fraction(48), lines, Fraction(0)) == [Fraction(12), even, even, even]
    assert parted(Fraction(48), lines, Fraction(1, 16)) == [ends, even, even, ends]
    found = [one for one in recorded(48 * INCH, INCH * 95 // 8, 4) if one.kind is CutKind.RIP]
    told = [Fraction(one.position or 0, INCH) for one in found]
    assert parted(Fraction(48), told, Fraction(0)) == [even] * 4 + [Fraction(0)]


def test_lines_from_one_edge_do_not_grow() -> None:
    """Marked from the reference edge a strip has two errors, whatever its place: e x root 2."""
    rng = Random(17)
    told = [float(Fraction(one.position or 0, INCH)) for one in rips(left=INCH)]
    kerf, spread = float(Fraction(KERF, INCH)), []
    for place in range(1, STRIPS):
        errors = [
            told[place] + rng.gauss(0, float(E)) - (told[place - 1] + rng.gauss(0, float(E)) + kerf)
            for _ in range(RUNS)
        ]
        spread.append(statistics.pstdev(errors))
    assert spread == pytest.approx([2**0.5 / 32] * (STRIPS - 1), rel=0.08)
