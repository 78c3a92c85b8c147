"""The check of a job holds against any numbers, and agrees with the saw about what fits."""

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from shared.check import check_job, plannable
from shared.cuts.sequence import layout_sheet, saw_up
from shared.fit import Fit, fit
from shared.issues import Severity
from shared.job import Job, MatchGroup
from shared.layout import LayoutSheet
from shared.lengths import INCH, MM, Length
from shared.parts import Bands, Part
from shared.saw import verify
from shared.shop import Axis, Rail, Shop, Span, TableSaw
from shared.stock import Stock, Trims
from shared.tree import Piece, Place, Run
from tests.examples import some_of
from tests.shop_strategies import kerfs
from tests.strategies import jobs, parts, stock_rows

WILD = st.one_of(
    st.integers(-(2**50), 2**50), st.sampled_from((0, -1, 1, MM, INCH, 400 * MM, 10_000))
)
WILD_PARTS = st.builds(
    Part,
    id=st.sampled_from("abc"),
    name=st.sampled_from(("", "Side", "Top")),
    copies=WILD,
    length=WILD,
    width=WILD,
    material=st.sampled_from(("", "ply")),
    bands=st.builds(Bands, top=WILD, bottom=WILD, left=WILD, right=WILD),
    group=st.sampled_from(("", "Fronts")),
    fit_allowance=WILD,
    measured_length=WILD,
    measured_width=WILD,
    oversize=WILD,
)
WILD_STOCK = st.builds(
    Stock,
    id=st.sampled_from("abc"),
    name=st.sampled_from(("", "Sheet")),
    material=st.sampled_from(("", "ply")),
    length=WILD,
    width=WILD,
    thickness=WILD,
    trims=st.builds(Trims, near=WILD, far=WILD, start=WILD, end=WILD),
    price=WILD,
    at_hand=st.one_of(st.none(), WILD),
)
WILD_SPANS = st.builds(Span, least=WILD, most=WILD)
WILD_SHOPS = st.builds(
    Shop,
    kerf=WILD,
    cut_s=WILD,
    unguided_s=WILD,
    keep_length=WILD,
    rails=st.lists(st.builds(Rail, length=WILD, joined=WILD), max_size=2).map(tuple),
    overhang=WILD,
    guide=st.one_of(st.none(), WILD_SPANS),
    carry=WILD,
    hold=WILD,
    table=st.one_of(st.none(), st.builds(TableSaw, kerf=WILD, fence=WILD_SPANS)),
    oversize=WILD,
    lift_g=WILD,
    loose=WILD,
)
WILD_JOBS = st.builds(
    Job,
    parts=st.lists(WILD_PARTS, max_size=3).map(tuple),
    stock=st.lists(WILD_STOCK, max_size=3).map(tuple),
    shop=WILD_SHOPS,
    groups=st.lists(st.builds(MatchGroup, name=st.just("Fronts"), columns=WILD), max_size=1).map(
        tuple
    ),
)


@given(job=st.one_of(WILD_JOBS, jobs()))
@settings(max_examples=some_of(80), deadline=None)
def test_what_is_plannable_has_no_error(job: Job) -> None:
    """Whatever the numbers, what is left of a job has no wrong row and lost nothing sound."""
    wrong = {one.subject for one in check_job(job) if one.severity is Severity.ERROR}
    kept = plannable(job)
    left = [one for one in check_job(kept) if one.severity is Severity.ERROR]
    assert all(one.subject == "" for one in left)
    if "" not in wrong:
        assert {part for part in job.parts if part.id not in wrong} <= set(kept.parts)
    assert {row for row in job.stock if row.id not in wrong} <= set(kept.stock)


@given(part=parts(1, most=2600 * MM), row=stock_rows(1), kerf=kerfs(), tight=st.integers(-2, 2))
@settings(max_examples=150, deadline=None)
def test_a_part_fits_if_the_saw_can_cut_it(
    part: Part, row: Stock, kerf: Length, tight: int
) -> None:
    """Alone on a sheet, a part fits if and only if some way to saw it is accepted."""
    part = replace(part, copies=1, material=row.material, bands=Bands(), fit_allowance=0)
    if abs(tight) < 2:
        part = replace(part, length=row.length - row.trims.start - row.trims.end + tight)
    job = Job(parts=(part,), stock=(row,), shop=Shop(kerf=kerf))
    can = any(not verify(saw_up(job, [alone(job, turned)])) for turned in (False, True))
    assert can is (fit(part, row, kerf) is Fit.FITS)


def alone(job: Job, turned: bool) -> LayoutSheet:
    """Lay the job's part into the reference corner of its sheet, as far as it goes."""
    (part,), (row,) = job.parts, job.stock
    sides = (part.width, part.length) if turned else (part.length, part.width)
    block = Piece(size=sides[0], place=Place(part=part.id, copy=1, turned=turned))
    crosscuts = Run(axis=Axis.CROSSCUT, trim=row.trims.start, pieces=(block,))
    strip = Piece(size=sides[1], run=crosscuts)
    rips = Run(axis=Axis.RIP, trim=row.trims.near, pieces=(strip,))
    return layout_sheet("1", row, job.shop.kerf, rips)
