"""Build steps as lines of text: what is written is read back, and slips are named."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shared.building import (
    Build,
    BuildStep,
    Hardware,
    StepError,
    StepKind,
    hardware_lines,
    read_hardware,
    read_steps,
    slips,
    step_lines,
)
from shared.lengths import INCH
from shared.parts import Part


def part(part_id: str, name: str) -> Part:
    """Return a part of that name."""
    return Part(id=part_id, name=name, length=INCH, width=INCH, material="ply")


PARTS = (part("p1", "Drawer side"), part("p2", "Case top, bottom"), part("p3", "Odd (one); two"))
WORDS = st.text("abc é:;()×1", min_size=1, max_size=12).map(lambda t: " ".join(t.split()))


def test_a_line_names_kind_and_parts() -> None:
    """The hint's own line is read as it is meant, letters large or small."""
    (step,) = read_steps("Groove (drawer  side; Case top, bottom): 1/4 by 1/4: 3/8 up", PARTS)
    assert step == BuildStep(kind=StepKind.GROOVE, text="1/4 by 1/4: 3/8 up", parts=("p1", "p2"))


@pytest.mark.parametrize(
    ("line", "step"),
    [
        ("wait for the glue", BuildStep(text="wait for the glue")),
        ("note: two coats", BuildStep(text="note: two coats")),
        ("finish: two coats", BuildStep(kind=StepKind.FINISH, text="two coats")),
        ("(Drawer side): sand", BuildStep(text="sand", parts=("p1",))),
    ],
)
def test_kind_and_parts_may_lack(line: str, step: BuildStep) -> None:
    """What is no kind belongs to the words."""
    assert read_steps(f"\n  {line}\n\n", PARTS) == (step,)


@pytest.mark.parametrize(
    ("word", "kind"),
    [
        *(("grove", "groove"), ("Grooves", "groove"), ("gruove", "groove"), ("bnad", "band")),
        *(("banding", "band"), ("asemble", "assemble"), ("assembly", "assemble")),
        *(("finsh", "finish"), ("fnish", "finish"), ("finished", "finish")),
    ],
)
@pytest.mark.parametrize("rest", [" (Drawer side): 1/4 deep", ": 1/4 deep", ":"])
def test_a_misspelt_kind_is_told_with_the_nearest(word: str, kind: str, rest: str) -> None:
    """The line stays the words it is, and the sentence names line, word and kind."""
    line = word + rest
    (said,) = slips(f"band: front\n{line}")
    assert said == (
        f"Line 2: “{word}” is no kind of step, so the line counts as words only."
        f" Did you mean “{kind}”?"
    )
    assert read_steps(line, PARTS) == (BuildStep(text=line),)


@pytest.mark.parametrize(
    "line",
    [
        *("groove: 1/4", "Band (Drawer side): front", "finish", "(Drawer side): grove", "", ": x"),
        *("note: two coats", "sand: 180", "glue: clamps on", "drill: 5 mm", "rabbet: 1/4", "grove"),
        *("wait till the grove: is dry", "1/4: grove", "סרט: front"),
    ],
)
def test_other_words_are_no_slips(line: str) -> None:
    """Kinds that are right, other work of a shop, and words that no colon follows."""
    assert list(slips(line)) == []


@given(st.lists(st.one_of(WORDS, st.text(max_size=20)), max_size=4))
def test_any_words_may_be_looked_through(lines: list[str]) -> None:
    """No more hints than lines, whatever is typed."""
    text = "\n".join(lines)
    assert len(list(slips(text))) <= len(text.splitlines())


def test_a_part_that_is_not_there_is_named() -> None:
    """The sentence says which."""
    with pytest.raises(StepError, match="“Shelf”"):
        read_steps("band (Shelf): front", PARTS)


@given(
    st.lists(
        st.builds(
            BuildStep,
            kind=st.sampled_from([kind for kind in StepKind if kind is not StepKind.OTHER]),
            text=st.text("abc é:;×1 ", max_size=12).map(lambda t: " ".join(t.split())),
            parts=st.lists(st.sampled_from(["p1", "p2", "p3"]), unique=True).map(tuple),
        ),
        max_size=4,
    ).map(tuple)
)
def test_steps_come_back_as_they_were(steps: tuple[BuildStep, ...]) -> None:
    """Written and read again, nothing is lost; awkward names are written as ids."""
    assert read_steps(step_lines(Build(steps=steps), PARTS), PARTS) == steps


def test_steps_outlive_their_parts() -> None:
    """A step whose part is gone is written without it."""
    build = Build(steps=(BuildStep(kind=StepKind.BAND, text="front", parts=("p9", "p1")),))
    assert step_lines(build, PARTS) == "band (Drawer side): front"


def test_hardware_is_counted() -> None:
    """A line without a number is one; × may be typed as x."""
    text = "12 x slide 14 in (side-mount)\nglue"
    kept = (Hardware(name="slide 14 in", count=12, note="side-mount"), Hardware(name="glue"))
    assert read_hardware(text) == kept
    assert read_hardware(hardware_lines(Build(hardware=kept))) == kept


@pytest.mark.parametrize("line", ["nail (Nothing): bang", "Day 2: sand", "first, 10:30: glue"])
def test_words_with_a_colon_stay_as_they_were_typed(line: str) -> None:
    """What begins with no kind is written as the maker wrote it, without a colon before it."""
    steps = read_steps(line, ())
    assert steps == (BuildStep(text=line),)
    assert step_lines(Build(steps=steps), ()) == line
