"""A published plan: whole, in both units, rounded once, read back by a Markdown reader."""

import re
from dataclasses import replace
from itertools import pairwise

import pytest
from lxml import etree
from markdown_it import MarkdownIt
from markdown_it.token import Token

from layout_app.paper.matter import Matter, matter_of
from layout_app.paper.plain import one_line
from layout_app.paper.publish import finished, in_unit, publish_files, sawn
from shared.cautions import DEFER, cautions_for
from shared.drawing import draw_loose
from shared.job import Job
from shared.layout import LayoutSheet
from shared.lengths import INCH, MM, LengthStyle, Unit, parse_length
from shared.parts import Part
from shared.plan import Placement
from tests.layout_app.paper.matters import hostile_job, hostile_matter
from tests.layout_app.small_job import planned, small_job

READER = MarkdownIt("commonmark").enable("table")
UNESCAPED_PIPE = re.compile(r"(?<!\\)(?:\\\\)*\|")
Table = list[list[str]]


@pytest.fixture(scope="module")
def matter() -> Matter:
    """A plan with hostile names, its job in inches."""
    return hostile_matter()


@pytest.fixture(scope="module")
def files(matter: Matter) -> dict[str, bytes]:
    """Its folder."""
    return publish_files(matter)


@pytest.fixture(scope="module", params=Unit)
def unit(request: pytest.FixtureRequest) -> Unit:
    """Inches, then millimetres."""
    found = request.param
    assert isinstance(found, Unit)
    return found


@pytest.fixture(scope="module")
def text(files: dict[str, bytes], unit: Unit) -> str:
    """The document in that unit."""
    return files[f"plan-{unit}.md"].decode()


def words(token: Token) -> str:
    """Return what is shown of an inline token."""
    return "".join(child.content for child in token.children or () if child.type == "text")


def tables(text: str) -> dict[str, Table]:
    """Return all tables by the heading before them, as a Markdown reader has them."""
    found: dict[str, Table] = {}
    tokens, title = READER.parse(text), ""
    for before, token in pairwise(tokens):
        if before.type == "heading_open":
            title = words(token)
        elif before.type == "table_open":
            found[title] = []
        elif before.type == "tr_open":
            found[title].append([])
        if token.type == "inline" and before.type in {"th_open", "td_open"}:
            found[title][-1].append(words(token))
    return found


def test_the_folder_holds_both_documents_and_all_drawings(
    files: dict[str, bytes], matter: Matter
) -> None:
    """A drawing of each sheet in each unit, well-formed, each shown by its document."""
    names = {f"sheet-{sheet.id}-{unit}.svg" for sheet in matter.plan.sheets for unit in Unit}
    assert set(files) == {"plan-in.md", "plan-mm.md"} | names
    for name in names:
        root = etree.fromstring(files[name])
        assert root.get("width", "").endswith("mm")
        assert f"]({name})" in files[f"plan-{name[-6:-4]}.md"].decode()


def test_the_same_matter_gives_the_same_bytes(files: dict[str, bytes], matter: Matter) -> None:
    """Nothing depends on when it was made."""
    assert publish_files(matter) == files


def test_each_row_has_as_many_cells_as_headings(text: str) -> None:
    """Counted in the text itself, since readers fill up and cut off rows."""
    blocks = [block for block in text.split("\n\n") if block.startswith("|")]
    assert len(blocks) == len(tables(text)) >= 5
    for block in blocks:
        counts = [len(UNESCAPED_PIPE.findall(line)) for line in block.splitlines()]
        assert len(counts) > 2
        assert set(counts) == {counts[0]}


def test_names_make_no_markup(text: str, matter: Matter) -> None:
    """A Markdown reader finds no HTML, no code, no link but ours, and one title."""
    tokens = READER.parse(text)
    kinds = {token.type for token in tokens}
    assert not kinds & {"html_block", "fence", "code_block", "blockquote_open", "hr"}
    inner = [child for token in tokens for child in token.children or ()]
    assert {child.type for child in inner} <= {
        *("text", "strong_open", "strong_close", "link_open", "link_close", "image"),
    }
    links = [child.attrs["href"] for child in inner if child.type == "link_open"]
    assert links in (["plan-mm.md"], ["plan-in.md"])
    titles = [
        words(after)
        for token, after in pairwise(tokens)
        if token.type == "heading_open" and token.tag == "h1"
    ]
    assert titles == [one_line(matter.job.name)]


def test_every_part_is_in_the_cut_list_under_its_own_name(text: str, matter: Matter) -> None:
    """Name, copies and material come back as typed, on one line."""
    rows = tables(text)["Cut list"][1:]
    for row, part in zip(rows, matter.job.parts, strict=True):
        assert row[0] == one_line(part.name)
        assert row[1] == str(part.copies)
        assert row[6] == one_line(part.material)


def test_sizes_read_back_to_the_plan(text: str, unit: Unit, matter: Matter) -> None:
    """Each size is the plan's: to nearest 1/32 in or 0.1 mm, down or up to it for fit parts."""
    finest = INCH // 32 if unit is Unit.INCH else MM // 10
    for row, part in zip(tables(text)["Cut list"][1:], matter.job.parts, strict=True):
        exact = part.length, part.width, part.cut_length, part.cut_width
        for cell, ticks in zip(row[2:6], exact, strict=True):
            off = abs(read(cell, unit) - ticks)
            assert off < finest if part.fit_allowance else off <= finest // 2


def test_bands_are_told_to_the_hundredth(files: dict[str, bytes]) -> None:
    """A band of 1 mm is 3/64 in to the nearest 64th (0.0394 in), in mm it is 1."""
    inches = {row[0]: row for row in tables(files["plan-in.md"].decode())["Cut list"]}
    metric = {row[0]: row for row in tables(files["plan-mm.md"].decode())["Cut list"]}
    assert inches["Door"][8] == "band 3/64 top, band 3/64 bottom, band 5/64 left, band 5/64 right"
    assert metric["Door"][8] == "band 1 top, band 1 bottom, band 2 left, band 2 right"


def test_what_it_takes_is_said_once(text: str, matter: Matter) -> None:
    """The number of sheets stands once at the top."""
    sheets = len(matter.plan.sheets)
    assert text.split("## At every cut", maxsplit=1)[0].count(f"{sheets} sheet") == 1


def test_cuts_are_told_in_order(text: str, unit: Unit, matter: Matter) -> None:
    """Each cut of the plan is a row; what is set is the plan's, to the nearest step."""
    rows = tables(text)["Cuts in order"][1:]
    finest = INCH // 32 if unit is Unit.INCH else MM // 10
    assert [row[0] for row in rows] == [str(cut.number) for cut in matter.plan.cuts]
    for row, cut in zip(rows, matter.plan.cuts, strict=True):
        found = SET.match(row[3])
        assert found is not None, row[3]
        assert abs(read(found[1], unit) - cut.size) <= finest // 2


SET = re.compile(r"(?:Set \w+|Guide|Stop|Fence|Mark) ([\d/. ]+?(?: shy| strong)?)(?:[,; ]\D|$)")


def read(written: str, unit: Unit) -> int:
    """Read a size whether or not it is off the mark."""
    return parse_length(re.sub(" (shy|strong)", "", written), unit)


def style_of(unit: Unit, denominator: int = 32, decimals: int = 1) -> LengthStyle:
    """Return a way to write lengths."""
    return LengthStyle(unit=unit, denominator=denominator, decimals=decimals)


def a_part(length: int, allowance: int = 0) -> Part:
    """Return a part of a length in ticks."""
    return Part(
        id="a", name="a", length=length, width=length, material="m", fit_allowance=allowance
    )


@pytest.mark.parametrize(
    ("part", "style", "planned_size", "sawn_size"),
    [
        # 11-7/8 in = 301.625 mm: nothing to fit, to nearest.
        (a_part(95 * INCH // 8), style_of(Unit.MM), "301.6", "301.6"),
        # D3: inset front 14-13/16 in = 376.2375 mm; blank 1/4 in more, 382.5875 mm.
        (
            a_part(237 * INCH // 16, INCH // 4),
            style_of(Unit.MM),
            "376.23",
            "382.6",
        ),
        # D4: a third of 23-1/2 in, 7-5/6, as a fit: down to 7-13/16, 1/48 to spare.
        (
            a_part(47 * INCH // 6, INCH // 4),
            style_of(Unit.INCH),
            "7 13/16 strong",
            "8 3/32 shy",
        ),
        # D4 in mm: 197.33 down to 197; the blank, 3 mm more, up to 200.4.
        (a_part(592 * MM // 3, 3 * MM), style_of(Unit.MM, decimals=0), "197.3", "200.4"),
        # 18 mm in 64ths: 45/64 and 0.0055 in more.
        (a_part(18 * MM), style_of(Unit.INCH, 64), "45/64 strong", "45/64 strong"),
    ],
)
def test_fits_go_down_blanks_up_and_all_else_to_nearest(
    part: Part, style: LengthStyle, planned_size: str, sawn_size: str
) -> None:
    """Workshop values, worked by hand (drawer fronts of 7-5/6 in, 1 in = 25.4 mm)."""
    assert finished(part.length, part, style) == planned_size
    assert sawn(part.cut_length, part, style) == sawn_size


def test_measured_thickness_stands_beside_the_named_one(files: dict[str, bytes]) -> None:
    """18 mm board is 45/64 and a bit; ply sold as 3/4 is 23/32 in = 18.26 mm (PS 1 table)."""
    inches = tables(files["plan-in.md"].decode())["Thickness, named and measured"][1:]
    metric = tables(files["plan-mm.md"].decode())["Thickness, named and measured"][1:]
    assert [row[2] for row in inches] == ["23/32", "45/64 strong"]
    assert [row[2] for row in metric] == ["18.26", "18"]
    assert [row[0] for row in inches] == ["3/4 birch ply", "-18 mm | board"]


def test_offcuts_are_never_promised_larger_than_they_are(text: str, unit: Unit) -> None:
    """No offcut is rounded up: none is said to be shy of its size."""
    rows = tables(text)["Offcuts to keep"][1:]
    assert rows
    assert not [cell for row in rows for cell in row[1:3] if "shy" in cell]


def test_band_to_buy_is_rounded_up(files: dict[str, bytes], matter: Matter) -> None:
    """Four strips of 30 in and 2 in of overhang: 128, with a tenth 140.8, up to 140-13/16."""
    rows = tables(files["plan-in.md"].decode())["Edge band"][1:]
    assert rows[0][1:] == ["4", "128", "140 13/16", "1 roll of 25 ft"]
    # In mm 40 a strip: 4 x (762 + 40) = 3208, with a tenth 3528.8; metric rolls.
    rows = tables(files["plan-mm.md"].decode())["Edge band"][1:]
    assert rows[0][1:] == ["4", "3208", "3528.8", "1 roll of 10 m"]
    # In whole mm: 4 x (301.625 + 40) = 1366.5, with a tenth 1503.15.
    whole = replace(matter, style=replace(matter.style, decimals=0))
    rows = tables(publish_files(whole)["plan-mm.md"].decode())["Edge band"][1:]
    assert rows[1][1:4] == ["4", "1367", "1504"]


def test_cautions_and_assumptions_are_told(text: str, matter: Matter) -> None:
    """The sentence that defers to the manual, every usual caution, kerf and rounding."""
    shown = " ".join(words(token) for token in READER.parse(text) if token.type == "inline")
    for sentence in (DEFER, *cautions_for(matter.job.shop)):
        assert sentence in shown
    for said in ("Kerf of the track saw", "what must fit is rounded down", "as measured, not as"):
        assert said in shown


def test_build_steps_are_in_order_and_name_their_parts(text: str) -> None:
    """The maker's own words, then the parts by name, as a numbered list of three."""
    after = text.split("## After sawing\n\n")[1]
    tokens = READER.parse(after)
    steps = [words(token) for token in tokens if token.type == "inline"]
    assert steps[0] == "Groove Groove 1/4 in deep, 3/8 up (Door)"
    assert steps[1].startswith("Band # ends first 1. then edges (Door; =HYPERLINK(")
    assert steps[2] == "Finish"
    assert sum(token.type == "ordered_list_open" for token in tokens) == 1
    assert ["Drawer slides", "6", "20 in, pairs"] in tables(text)["Hardware"]


def test_a_document_speaks_one_unit(matter: Matter) -> None:
    """Told in the other unit and back it is the same; its own unit is told as it is."""
    metric = in_unit(matter, Unit.MM)
    assert in_unit(matter, Unit.INCH) is matter
    assert metric.style == replace(matter.style, unit=Unit.MM)
    assert in_unit(metric, Unit.INCH) == matter


def test_a_plan_that_is_not_whole_says_so_at_once() -> None:
    """The banner comes first; a sheet that cannot be cut is drawn in the maker's unit only."""
    job: Job = small_job()
    lying = Placement(part="side", copy=1, sheet="9", x=0, y=0, length=40 * INCH, width=12 * INCH)
    loose = draw_loose(
        job, LayoutSheet(id="9", stock="full", placements=(lying,)), problem="No way."
    )
    matter = matter_of(job, planned(job), loose=(loose,), waiting=("1 × Shelf: a sheet.",))
    files = publish_files(matter)
    assert "sheet-9-in.svg" in files
    assert "sheet-9-mm.svg" not in files
    for unit in Unit:
        text = files[f"plan-{unit}.md"].decode()
        assert text.splitlines()[2] == f"**{matter.banner}**"
        assert "1 × Shelf: a sheet." in text
        assert "(sheet-9-in.svg)" in text
        assert "**This sheet cannot be cut: No way.**" in text


def test_a_job_without_plan_still_has_its_list() -> None:
    """Nothing is said of sheets, cuts or offcuts that are not there."""
    job = hostile_job()
    files = publish_files(
        matter_of(job, replace(planned(small_job()), sheets=(), placements=(), cuts=(), offcuts=()))
    )
    assert set(files) == {"plan-in.md", "plan-mm.md"}
    assert set(tables(files["plan-in.md"].decode())) == {"Cut list", "Edge band"}
