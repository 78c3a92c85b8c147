"""The sheet that a part is said to need holds it, and none at hand is as large."""

import re
from dataclasses import replace

from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from shared.job import Job
from shared.lengths import MM, Length, LengthStyle, Unit, parse_length
from shared.parts import GrainRule, Part
from shared.shop import CutRule, Shop
from shared.stock import SheetGrain, Stock, Trims
from solver.prepare.instances import prepare
from tests.examples import some_of

QUICK = settings(
    max_examples=some_of(150),
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
    derandomize=True,
)
STYLES = st.one_of(
    st.builds(LengthStyle, unit=st.just(Unit.INCH), denominator=st.sampled_from((16, 32, 64))),
    st.builds(LengthStyle, unit=st.just(Unit.MM), decimals=st.sampled_from((0, 1, 2))),
)
TRIMS = st.builds(
    Trims,
    **dict.fromkeys(("near", "far", "start", "end"), st.sampled_from((0, 5 * MM, 9 * MM + 7))),
)
SIZES = st.integers(300 * MM, 400 * MM)
"""Close together and to the tick, so that many parts miss their sheet by less than is shown."""
GRAINS = st.sampled_from(SheetGrain)
SAID = re.compile(r"needs a sheet of ply of at least L (.+) × W (.+) (in|mm)(?:, grain (.+))?")


@st.composite
def rows(draw: st.DrawFn) -> Stock:
    """Sheets of about the size of the part, with trims and any grain."""
    return Stock(
        id=str(draw(st.integers())),
        name="",
        material="ply",
        length=draw(SIZES),
        width=draw(SIZES),
        thickness=MM,
        grain=draw(GRAINS),
        trims=draw(TRIMS),
    )


@st.composite
def jobs(draw: st.DrawFn) -> Job:
    """One part and one or two sheets, in a shop without limits."""
    part = Part(
        id="p",
        name="Part",
        length=draw(SIZES),
        width=draw(SIZES),
        material="ply",
        grain_rule=draw(st.sampled_from(GrainRule)),
    )
    stock = draw(st.lists(rows(), min_size=1, max_size=2, unique_by=lambda row: row.id))
    kerf = draw(st.integers(0, 4 * MM))
    return Job(
        parts=(part,), stock=tuple(stock), shop=Shop(kerf=kerf), rule=CutRule(), style=draw(STYLES)
    )


def read_back(sentence: str, style: LengthStyle) -> tuple[Length, Length, SheetGrain | None]:
    """Return length, width and grain of the sheet that a sentence speaks of."""
    said = SAID.fullmatch(sentence)
    assert said is not None, sentence
    length, width = (parse_length(said[n], style.unit) for n in (1, 2))
    return length, width, SheetGrain(said[4]) if said[4] else None


@QUICK
@given(job=jobs())
def test_a_sheet_of_the_size_said_holds_the_part(job: Job) -> None:
    """With any trims that the sheets have, and never is the size that of a sheet there is."""
    unplaced = prepare(job).unplaced
    assume(unplaced)
    length, width, grain = read_back(unplaced[0].need, job.style)
    for row in job.stock:
        alike = grain is None or row.grain in {grain, SheetGrain.NONE}
        assert not (alike and row.length >= length and row.width >= width)
    largest = max(job.stock, key=lambda row: row.length * row.width)
    new = replace(largest, length=length, width=width, grain=grain or largest.grain)
    assert prepare(replace(job, stock=(new,))).unplaced == ()
