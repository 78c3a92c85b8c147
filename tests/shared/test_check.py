"""Every mistake in a job is found and said in a sentence; what is left can be planned."""

from dataclasses import replace
from typing import Any

import pytest

from shared.check import check_job, plannable
from shared.issues import Issue, Severity
from shared.job import Job
from shared.lengths import INCH, METRE, MM, LengthStyle, Unit
from shared.parts import Bands, GrainRule, Part
from shared.shop import CutRule, Shop
from shared.stock import SheetGrain, Stock, Trims

KERF = INCH // 8
TRIM = INCH // 2
SIDE = Part(id="side", name="Side", length=30 * INCH, width=12 * INCH, material="ply")
TOP = Part(id="top", name="Top", length=40 * INCH, width=16 * INCH, material="ply")
SHEET = Stock(
    id="full",
    name="Full sheet",
    material="ply",
    length=96 * INCH,
    width=48 * INCH,
    thickness=3 * INCH // 4,
)
JOB = Job(name="Cabinet", parts=(SIDE, TOP), stock=(SHEET,), shop=Shop(kerf=KERF))


def with_part(**changes: Any) -> Job:
    """Return the good job with its first part changed."""
    return replace(JOB, parts=(replace(SIDE, **changes), TOP))


def with_stock(**changes: Any) -> Job:
    """Return the good job with its sheet changed."""
    return replace(JOB, stock=(replace(SHEET, **changes),))


def with_shop(**changes: Any) -> Job:
    """Return the good job with its shop changed."""
    return replace(JOB, shop=replace(JOB.shop, **changes))


def with_offcut(**changes: Any) -> Job:
    """Return the good job with a second row of stock."""
    offcut = replace(SHEET, id="rest", name="Offcut", at_hand=1)
    return replace(JOB, stock=(SHEET, replace(offcut, **changes)))


def with_two_sides(**changes: Any) -> Job:
    """Return the good job with a second row like the first."""
    return replace(JOB, parts=(SIDE, replace(SIDE, **changes), TOP))


ERRORS = [
    ("length 0", with_part(length=0), "part-size-not-positive", "side", "length"),
    ("width negative", with_part(width=-INCH), "part-size-not-positive", "side", "width"),
    ("1 km", with_part(length=1000 * METRE), "part-size-absurd", "side", "length"),
    ("over 100 m", with_part(width=100 * METRE + 1), "part-size-absurd", "side", "width"),
    (
        "bands as thick",
        with_part(bands=Bands(top=6 * INCH, bottom=6 * INCH)),
        "part-bands-too-thick",
        "side",
        "bands",
    ),
    (
        "bands thicker",
        with_part(bands=Bands(left=31 * INCH)),
        "part-bands-too-thick",
        "side",
        "bands",
    ),
    ("band negative", with_part(bands=Bands(right=-MM)), "part-band-negative", "side", "bands"),
    ("copies 0", with_part(copies=0), "part-copies-too-few", "side", "copies"),
    ("copies -1", with_part(copies=-1), "part-copies-too-few", "side", "copies"),
    ("copies 10,000", with_part(copies=10_000), "part-copies-too-many", "side", "copies"),
    ("unknown material", with_part(material="oak"), "part-material-unknown", "side", "material"),
    ("no material", with_part(material=""), "part-material-unknown", "side", "material"),
    ("id twice", with_two_sides(name="Other side"), "part-id-twice", "side", "id"),
    ("too long", with_part(length=97 * INCH), "part-too-large", "side", "length"),
    (
        "too wide",
        with_part(width=49 * INCH, length=20 * INCH),
        "part-against-grain",
        "side",
        "grain_rule",
    ),
    ("sheet length 0", with_stock(length=0), "stock-size-not-positive", "full", "length"),
    ("sheet 1 km", with_stock(width=1000 * METRE), "stock-size-absurd", "full", "width"),
    ("trim negative", with_stock(trims=Trims(far=-MM)), "stock-trim-negative", "full", "trims.far"),
    (
        "trims eat the width",
        with_stock(trims=Trims(near=24 * INCH, far=24 * INCH)),
        "stock-trims-eat-sheet",
        "full",
        "trims",
    ),
    (
        "trims eat the length",
        with_stock(trims=Trims(start=50 * INCH, end=50 * INCH)),
        "stock-trims-eat-sheet",
        "full",
        "trims",
    ),
    (
        "negative thickness",
        with_stock(thickness=-MM),
        "stock-thickness-negative",
        "full",
        "thickness",
    ),
    ("price negative", with_stock(price=-1), "stock-price-negative", "full", "price"),
    ("at hand negative", with_stock(at_hand=-1), "stock-at-hand-negative", "full", "at_hand"),
    ("stock id twice", with_offcut(id="full"), "stock-id-twice", "full", "id"),
    ("no parts", replace(JOB, parts=()), "job-no-parts", "", "parts"),
    ("no stock", replace(JOB, stock=()), "job-no-stock", "", "stock"),
    ("kerf negative", with_shop(kerf=-1), "shop-kerf-negative", "", "kerf"),
    ("kerf absurd", with_shop(kerf=20 * MM + 1), "shop-kerf-absurd", "", "kerf"),
    ("pace negative", with_shop(setup_s=-1), "shop-pace-negative", "", "setup_s"),
    ("one level", replace(JOB, rule=CutRule(levels=1)), "shop-levels", "", "levels"),
]
WARNINGS = [
    ("name twice", with_two_sides(id="side2"), "part-name-twice", "side2", "name"),
    ("thinner than kerf", with_part(width=3 * MM), "part-thinner-than-kerf", "side", "width"),
    ("no thickness", with_stock(thickness=0), "stock-thickness", "full", "thickness"),
    ("too thick", with_stock(thickness=101 * MM), "stock-thickness", "full", "thickness"),
    (
        "two thicknesses",
        with_offcut(thickness=18 * MM),
        "stock-thickness-differs",
        "rest",
        "thickness",
    ),
    (
        "near trim thin",
        with_stock(trims=Trims(near=KERF + 2 * MM - 1)),
        "stock-trim-thin",
        "full",
        "trims.near",
    ),
    ("start trim thin", with_stock(trims=Trims(start=1)), "stock-trim-thin", "full", "trims.start"),
    ("kerf 0", with_shop(kerf=0), "shop-kerf-zero", "", "kerf"),
]
Case = tuple[str, Job, str, str, str]


def named(case: Any) -> str | None:
    """Name a case by its first word."""
    return case[0] if isinstance(case, tuple) else None


def found(job: Job, code: str) -> list[Issue]:
    """Return the issues of that code."""
    return [issue for issue in check_job(job) if issue.code == code]


def codes(job: Job) -> set[str]:
    """Return the codes of all issues."""
    return {issue.code for issue in check_job(job)}


def test_good_job_has_no_issue() -> None:
    """Nothing is wrong with two parts and a sheet."""
    assert check_job(JOB) == ()
    assert plannable(JOB) == JOB


@pytest.mark.parametrize("case", ERRORS, ids=named)
def test_error_is_found_and_left_out(case: Case) -> None:
    """Each error names its row and field, says a sentence, and keeps the row out of the plan."""
    _, job, code, subject, field = case
    issue = found(job, code)[0]
    assert (issue.severity, issue.subject, issue.field) == (Severity.ERROR, subject, field)
    assert issue.sentence.endswith(".")
    kept = plannable(job)
    assert len(kept.parts) + len(kept.stock) < len(job.parts) + len(job.stock) or not kept.parts
    left = [one for one in check_job(kept) if one.severity is Severity.ERROR and one.subject]
    assert not left


@pytest.mark.parametrize("case", WARNINGS, ids=named)
def test_warning_is_found_and_planned(case: Case) -> None:
    """Each warning names its row and field, says a sentence, and leaves the job as it is."""
    _, job, code, subject, field = case
    issue = found(job, code)[-1]
    assert (issue.severity, issue.subject, issue.field) == (Severity.WARNING, subject, field)
    assert issue.sentence.endswith(".")
    assert plannable(job) == job


def test_error_of_the_shop_leaves_nothing_to_plan() -> None:
    """With a wrong kerf no part can be planned, but the rows are still checked."""
    job = replace(with_part(copies=0), shop=Shop(kerf=-1))
    assert codes(job) == {"shop-kerf-negative", "part-copies-too-few"}
    assert plannable(job).parts == ()


def test_only_the_wrong_row_is_left_out() -> None:
    """The other parts are planned."""
    assert plannable(with_part(length=0)).parts == (TOP,)


def test_of_two_rows_with_one_id_the_first_stays() -> None:
    """The first row keeps its id; the later one has to be mended."""
    assert plannable(with_two_sides(name="Other")).parts == (SIDE, TOP)


def test_rows_without_a_name_are_called_by_id() -> None:
    """Nameless rows are no duplicates, and a sentence can still name them."""
    job = with_two_sides(id="side2", name="", copies=0)
    job = replace(job, parts=(*job.parts, replace(TOP, id="top2", name="")))
    assert codes(job) == {"part-copies-too-few"}
    assert check_job(job)[0].sentence.startswith("side2 (no name): ")


def test_a_size_that_is_not_there_is_missing() -> None:
    """An empty cell is a length of 0; nobody has entered a length that is too small."""
    [issue] = check_job(with_part(length=0))
    assert issue.sentence == "Side: the length is missing."
    [issue] = check_job(with_part(width=-1 * MM))
    assert issue.sentence.endswith("; it must be more than 0.")


@pytest.mark.parametrize("at_hand", [0, -1])
def test_part_whose_sheets_are_none(at_hand: int) -> None:
    """A part whose only sheets are not there, or wrong, cannot be planned."""
    job = with_stock(at_hand=at_hand)
    assert [issue.subject for issue in found(job, "part-no-stock")] == ["side", "top"]
    assert plannable(job).parts == ()


def test_a_missing_thickness_is_said_once() -> None:
    """Neither the row without one nor the other is said to differ as well."""
    assert codes(with_offcut(thickness=0)) == {"stock-thickness"}
    other = with_offcut()
    first, second = other.stock
    without = replace(other, stock=(replace(first, thickness=0), second))
    assert [issue.code for issue in check_job(without)] == ["stock-thickness"]


def test_largest_number_and_size_are_allowed() -> None:
    """9,999 copies and 100 m are still believed; 100 m only fit no sheet."""
    assert check_job(with_part(copies=9_999)) == ()
    assert codes(with_part(length=100 * METRE)) == {"part-too-large"}


def test_bounds_themselves_are_allowed() -> None:
    """A kerf of 20 mm, a step of an hour, others of no time, a part as thin as the kerf."""
    shop = Shop(kerf=20 * MM, cut_s=3_600, setup_s=0, skim_s=0)
    assert check_job(replace(with_part(width=20 * MM), shop=shop)) == ()
    shop = replace(shop, cut_s=0, metre_s=1)
    assert check_job(replace(with_part(width=20 * MM), shop=shop)) == ()


def test_length_0_says_nothing_of_bands() -> None:
    """Bands do not make a part too small that has no size to begin with."""
    job = with_part(length=0, bands=Bands(left=MM))
    assert codes(job) == {"part-size-not-positive"}


def test_sentence_says_what_bands_take() -> None:
    """Bands of 6 and 7 in take 13 in, and nothing is left of 12 in."""
    job = with_part(bands=Bands(top=6 * INCH, bottom=7 * INCH))
    assert "take 13 in" in found(job, "part-bands-too-thick")[0].sentence


def test_sentence_says_what_trims_leave() -> None:
    """Trims of 1, 2, 3 and 4 in at the edges of 96 x 48 leave 89 x 45."""
    trims = Trims(near=INCH, far=2 * INCH, start=3 * INCH, end=4 * INCH)
    job = replace(with_part(length=95 * INCH), stock=(replace(SHEET, trims=trims),))
    (issue,) = check_job(job)
    assert "leave L 89 × W 45 in" in issue.sentence


def test_sentence_says_sizes_as_the_maker_writes_them() -> None:
    """Sizes are in the style of the job, labelled L and W; what rounding hides is shown."""
    job = with_part(length=97 * INCH, width=12 * INCH)
    inches = check_job(job)[0].sentence
    assert "L 97 × W 12 in" in inches
    assert "L 96 × W 48 in" in inches
    metric = replace(job, style=LengthStyle(unit=Unit.MM, decimals=1))
    assert "L 2463.8 × W 304.8 mm" in check_job(metric)[0].sentence
    measured = with_part(length=96 * INCH + INCH // 1000)
    assert "L 96 + 0.001 × W 12 in" in check_job(measured)[0].sentence


class TestFit:
    """A part is too large, or misses the sheet by its trims, their kerf or its grain."""

    def code(self, part: dict[str, Any], **stock: Any) -> set[str]:
        """Return the codes of one part on one sheet."""
        return codes(replace(with_part(**part), stock=(replace(SHEET, **stock),)))

    def test_exact_fit(self) -> None:
        """A part as large as the sheet fits: an exact ending needs no cut."""
        assert not self.code({"length": 96 * INCH, "width": 48 * INCH})

    def test_one_tick_more(self) -> None:
        """One tick more does not fit."""
        assert self.code({"length": 96 * INCH + 1}) == {"part-too-large"}

    def test_exact_fit_of_a_trimmed_sheet(self) -> None:
        """Between trims of 1/2 in all round, 95 x 47 in fit, and the last cuts run in the trims."""
        trims = Trims(near=TRIM, far=TRIM, start=TRIM, end=TRIM)
        assert not self.code({"length": 95 * INCH, "width": 47 * INCH}, trims=trims)

    def test_misses_by_the_kerf_of_a_trim(self) -> None:
        """A trim of 1/2 in wastes 3/8 in and a kerf of 1/8: a part 1/8 in longer misses by it."""
        job = {"length": 95 * INCH + INCH // 2 + KERF}
        assert self.code(job, trims=Trims(start=TRIM)) == {"part-too-large-by-kerf"}

    def test_misses_by_a_tick_of_kerf_in_width(self) -> None:
        """The same across, by a single tick."""
        job = {"length": 60 * INCH, "width": 47 * INCH + INCH // 2 + 1}
        assert self.code(job, trims=Trims(near=TRIM)) == {"part-too-large-by-kerf"}

    def test_misses_by_the_trims(self) -> None:
        """Beyond the kerf it is the trim itself; and a far trim takes no kerf of its own."""
        job = {"length": 95 * INCH + INCH // 2 + KERF + 1}
        assert self.code(job, trims=Trims(start=TRIM)) == {"part-too-large-for-trims"}
        job = {"length": 95 * INCH + INCH // 2 + 1}
        assert self.code(job, trims=Trims(end=TRIM)) == {"part-too-large-for-trims"}

    def test_misses_by_the_far_trim(self) -> None:
        """A far trim of 1/2 in leaves 47-1/2 in of 48: one tick more does not fit."""
        fits = {"length": 60 * INCH, "width": 48 * INCH - TRIM}
        assert not self.code(fits, trims=Trims(far=TRIM))
        more = {**fits, "width": 48 * INCH - TRIM + 1}
        assert self.code(more, trims=Trims(far=TRIM)) == {"part-too-large-for-trims"}

    def test_misses_by_grain(self) -> None:
        """Across the sheet 60 in fit only if the part may turn."""
        job = {"length": 20 * INCH, "width": 60 * INCH}
        assert self.code(job) == {"part-against-grain"}
        assert not self.code({**job, "grain_rule": GrainRule.ALONG_WIDTH})
        assert not self.code({**job, "grain_rule": GrainRule.EITHER})
        assert not self.code(job, grain=SheetGrain.NONE)
        assert not self.code(job, grain=SheetGrain.ALONG_W)

    def test_cut_size_counts(self) -> None:
        """Two bands of 1 mm make a part that is 2 mm too long fit."""
        job = {"length": 96 * INCH + 2 * MM, "bands": Bands(left=MM, right=MM)}
        assert not self.code(job)

    def test_any_sheet_will_do(self) -> None:
        """A part that fits one of several sheets is no issue, whatever the others are."""
        small = {"length": 20 * INCH, "width": 10 * INCH}
        assert codes(with_offcut(**small)) == set()

    def test_the_nearest_miss_is_said(self) -> None:
        """Of several sheets the one that fits best is named, not the first or the largest."""
        job = replace(
            with_offcut(length=120 * INCH, width=20 * INCH, trims=Trims(end=TRIM)),
            parts=(replace(SIDE, length=120 * INCH),),
        )
        (issue,) = check_job(job)
        assert issue.code == "part-too-large-for-trims"
        assert "Offcut" in issue.sentence
        assert "L 119 1/2 × W 20 in" in issue.sentence


def test_trim_of_kerf_and_two_millimetres_is_enough() -> None:
    """The least trim of the workshop notes, kerf + 2 mm, is accepted; so is none."""
    assert check_job(with_stock(trims=Trims(near=KERF + 2 * MM))) == ()
    assert check_job(with_stock(trims=Trims(far=1, end=1))) == ()


def test_an_offcut_with_none_at_hand_is_no_question() -> None:
    """A row of the rack that is used up is simply not used; nothing is asked or marked."""
    assert not [one for one in check_job(with_offcut(at_hand=0)) if one.subject == "rest"]


def test_a_part_without_a_material_is_told_so() -> None:
    """Where the job has no material alone, the sentence says what to do."""
    found = [one.sentence for one in check_job(with_part(material=""))]
    assert found == ["Side has no material: give it that of a sheet."]
