"""What no cut is set to is to be measured, in runs written out by hand."""

from dataclasses import replace

import pytest

from shared.cuts.sequence import layout_sheet, saw_up
from shared.job import Job
from shared.lengths import INCH, Length
from shared.making.recording import records
from shared.parts import Part
from shared.plan import CutKind
from shared.shop import Axis, Shop
from shared.stock import Stock, Trims
from shared.tree import Piece, Place, Run

KERF = INCH // 8


def recorded(sheet: Length, size: Length, count: int, trim: Length = 0, crosscuts: int = 1):
    """Return the records of a sheet ripped into strips of a size, each with so many parts."""
    part = Part(
        id="p", name="p", length=96 * INCH, width=size, copies=count * crosscuts, material="ply"
    )
    row = Stock(
        id="s",
        name="ply",
        material="ply",
        length=96 * INCH,
        width=sheet,
        thickness=INCH * 3 // 4,
        trims=Trims(near=trim),
    )
    long = (96 * INCH - KERF * (crosscuts - 1)) // crosscuts
    part = replace(part, length=long)
    pieces = []
    for strip in range(count):
        places = [
            Piece(size=long, place=Place(part="p", copy=strip * crosscuts + n + 1))
            for n in range(crosscuts)
        ]
        run = Run(axis=Axis.CROSSCUT, pieces=tuple(places))
        pieces.append(Piece(size=size, run=run))
    tree = Run(axis=Axis.RIP, trim=trim, pieces=tuple(pieces))
    job = Job(parts=(part,), stock=(row,), shop=Shop(kerf=KERF))
    return records((saw_up(job, [layout_sheet("1", row, KERF, tree)]),), job.shop)


def test_the_rest_of_an_exact_run_names_its_size():
    """48 in and three kerfs of 1/8: four strips of 11-29/32, and the last is what remains.

    Each strip is halved exactly, too: (96 - 1/8) / 2 = 47-15/16.
    """
    strip, half = 11 * INCH + INCH * 29 // 32, 47 * INCH + INCH * 15 // 16
    assert 4 * strip + 3 * KERF == 48 * INCH
    found = recorded(48 * INCH, strip, 4, crosscuts=2)
    rips = [one for one in found if one.kind is CutKind.RIP]
    assert [one.checks for one in rips[:2]] == [(), ()]
    (check,) = rips[2].checks
    assert (check.side.name, check.size) == ("1", strip)
    crosscuts = [one for one in found if one.kind is CutKind.CROSSCUT]
    assert [one.checks[0].size for one in crosscuts] == [half] * 4
    assert [one.checks[0].side for one in crosscuts] == [one.left for one in crosscuts]


@pytest.mark.parametrize("strip", [INCH * 95 // 8, INCH * 47 // 4])
def test_what_a_cut_is_set_to_is_not_checked(strip):
    """K1 ends in a skim, K3 in an offcut: every strip has a cut of its own (kerf table)."""
    trim = 0 if strip == INCH * 95 // 8 else INCH // 4
    assert not any(one.checks for one in recorded(48 * INCH, strip, 4, trim))


def test_what_a_trim_leaves_is_checked_when_it_is_the_part():
    """A trim of 1/4 leaves 47-3/4 of 48, and nothing else is cut along it."""
    (trim,) = recorded(48 * INCH, 47 * INCH + INCH * 3 // 4, 1, INCH // 4)
    (check,) = trim.checks
    assert (check.side, check.size) == (trim.makes, 47 * INCH + INCH * 3 // 4)
    assert trim.kind is CutKind.TRIM


def test_a_cut_has_a_position_only_before_anything_moves():
    """All rips of the whole sheet have one; what comes after the first crosscut has none."""
    found = recorded(48 * INCH, INCH * 95 // 8, 4, crosscuts=2)
    rips, rest = found[:4], found[4:]
    assert [one.kind for one in rips] == [CutKind.RIP] * 4
    assert [one.position for one in rips] == [INCH * (95 + 96 * n) // 8 for n in range(4)]
    assert {one.position for one in rest} == {None}
