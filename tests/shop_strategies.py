"""Random lengths, shops and rules of cutting: as workshops have them.

All lengths are in ticks. Sizes are whole sixty-fourths of an inch or tenths of a millimetre,
sometimes a single tick, as a measured thickness gives; kerfs are those of real blades, and 0.
"""

from functools import cache, lru_cache

from hypothesis import strategies as st

from shared.lengths import INCH, MM, Length, LengthStyle, Unit
from shared.shop import (
    ABSENT,
    CutRule,
    FirstCut,
    Gear,
    Hand,
    Rail,
    RunsOn,
    SawBase,
    Shop,
    Span,
    Support,
    TableSaw,
)

KERFS: tuple[Length, ...] = (
    0,
    183 * MM // 100,
    22 * MM // 10,
    32 * MM // 10,
    INCH // 8,
    3 * INCH // 32,
)
any_of = cache(st.sampled_from)
"""A strategy is looked through when it is first drawn from: those drawn from often are kept."""
BOOLEANS = st.booleans()
IN_TEN = st.integers(0, 9)
STEPS = st.sampled_from((INCH // 64, MM // 10, MM, 1, 0))


@lru_cache(maxsize=1024)
def lengths(least: Length = 1, most: Length = 3000 * MM) -> st.SearchStrategy[Length]:
    """Lengths in ticks: sixty-fourths of an inch, tenths of a millimetre, or any tick."""

    def steps(step: Length) -> st.SearchStrategy[Length]:
        return st.integers(-(-least // step), most // step).map(lambda n: n * step)

    whole = [
        steps(step) for step in (INCH // 64, MM // 10, MM) if -(-least // step) <= most // step
    ]
    return st.one_of(*whole, st.integers(least, most))


@cache
def styles() -> st.SearchStrategy[LengthStyle]:
    """Every way to write lengths."""
    return st.builds(
        LengthStyle,
        unit=st.sampled_from(Unit),
        denominator=st.sampled_from((16, 32, 64)),
        decimals=st.sampled_from((0, 1, 2)),
    )


@cache
def kerfs() -> st.SearchStrategy[Length]:
    """Kerfs of real blades, an odd measured one, and none."""
    return st.sampled_from(KERFS)


@cache
@st.composite
def shops(draw: st.DrawFn) -> Shop:
    """Shops with any kerf and pace, either saw, and whatever stands at it."""
    pace, kerf = any_of((0, 30, 60, 240)), draw(kerfs())
    return Shop(
        kerf=kerf,
        cut_s=draw(pace),
        metre_s=draw(pace),
        setup_s=draw(pace),
        measure_s=draw(pace),
        unguided_s=draw(pace),
        rail_s=draw(pace),
        join_s=draw(pace),
        lift_s=draw(pace),
        turn_s=draw(pace),
        heavy_s=draw(pace),
        skim_s=draw(pace),
        runs_on=draw(any_of(RunsOn)),
        base=draw(bases(kerf)),
        rail_width=draw(any_of((0, 180 * MM))),
        rail_side=draw(any_of(Hand)),
        splinter_guard=draw(BOOLEANS),
        stop=draw(st.one_of(st.none(), st.just(ABSENT), spans())),
        square=draw(any_of((0, 600 * MM, 24 * INCH))),
        support=draw(any_of(Support)),
        turn_g=draw(any_of((0, 46_000))),
    )


@cache
def bases(kerf: Length) -> st.SearchStrategy[SawBase]:
    """Bases of circular saws, measured with a blade of that kerf."""
    near, length = st.integers(30 * MM, 140 * MM), st.integers(200 * MM, 300 * MM)
    return st.builds(
        lambda left, right, long: SawBase(
            left_near=left,
            left_far=left + kerf,
            right_near=right,
            right_far=right + kerf,
            length=long,
        ),
        near,
        near,
        length,
    )


@cache
def gears() -> st.SearchStrategy[Gear]:
    """What belongs to a saw that is put aside."""
    return st.builds(
        Gear,
        tool=st.sampled_from(("circular saw", "Säge “groß”")),
        kerf=lengths(1, 20 * MM),
        rails=rails(),
        rail_width=st.sampled_from((0, 100 * MM)),
        rail_side=st.sampled_from(Hand),
        guide=st.one_of(st.none(), spans()),
        carry=st.sampled_from((0, 100 * MM)),
    )


@cache
def rails() -> st.SearchStrategy[tuple[Rail, ...]]:
    """No rails named, or up to three, some of them joined."""
    one = st.builds(
        Rail,
        length=st.sampled_from((800 * MM, 1400 * MM, 2700 * MM)),
        joined=st.integers(1, 2),
        count=st.integers(2, 3),
    )
    return st.lists(one, max_size=3).map(tuple)


@cache
def spans() -> st.SearchStrategy[Span]:
    """What guides and fences reach over."""
    return st.builds(
        Span,
        least=st.sampled_from((0, 150 * MM)),
        most=st.sampled_from((300 * MM, 610 * MM, 24 * INCH)),
    )


@cache
@st.composite
def tooled(draw: st.DrawFn, kerf: Length) -> Shop:
    """Shops of a kerf with any rails, guide, table saw and limits."""
    table = st.builds(TableSaw, kerf=st.sampled_from((0, INCH // 8)), fence=spans())
    return Shop(
        kerf=kerf,
        rails=draw(rails()),
        guide=draw(st.one_of(st.none(), spans())),
        carry=draw(any_of((0, 100 * MM))),
        hold=draw(any_of((0, 300 * MM))),
        table=draw(st.one_of(st.none(), table)),
        lift_g=draw(any_of((0, 5_000, 23_000))),
    )


@cache
def rules() -> st.SearchStrategy[CutRule]:
    """Every depth and first direction."""
    return st.builds(CutRule, levels=st.sampled_from((2, 3)), first=st.sampled_from(FirstCut))
