"""Pasted columns that may hold edge bands: taken for them by what stands below, or said once."""

import pytest

from layout_app.panels.left_region import LeftRegion
from shared.lengths import MM
from tests.layout_app.panels.test_paste_line import paste
from tests.layout_app.panels.test_pasted import in_mm, parts_of, read, told
from tests.layout_app.small_job import small_job


@pytest.mark.parametrize("word", ["Edge", "Edges", "Edging", "Banding", "Bands"])
def test_edges_with_thicknesses_are_bands(word: str) -> None:
    """Left out, the parts would come out too large by them; a cell may be empty."""
    text = f"Part,L,W,{word}\nSide,300,120,top 1 mm\nShelf,280,110,\nBack,300,280,long 0.5; left 2"
    model = parts_of(in_mm(small_job()))
    outcome = read(text, model)
    assert [one.cut_width / MM for one in outcome.rows] == [119, 110, 279]
    assert [one.cut_length / MM for one in outcome.rows] == [300, 280, 298]
    assert "not used" not in told(text, model)


@pytest.mark.parametrize(("word", "cell"), [("Edge", "yes"), ("Banding", "yes"), ("Edge", "2")])
def test_edges_that_are_no_bands_are_said_once(word: str, cell: str) -> None:
    """Nothing is guessed from them, and one sentence says so."""
    text = f"Part,L,W,{word}\nSide,300,120,{cell}"
    model = parts_of(in_mm(small_job()))
    outcome = read(text, model)
    assert [one.cut_width / MM for one in outcome.rows] == [120]
    assert " ".join([told(text, model), *outcome.said]).count("not used") == 1


def test_one_cell_that_is_no_band_is_named(left: LeftRegion) -> None:
    """The column as a whole is left out then, with the line that bars it."""
    line = paste(left, "Part,L,W,Edge\nRail,20,2,top 1/50\nPost,9,2,oil")
    assert "“Edge” is not used, for line 3: Write edges and sizes like" in line.sentence
    assert line.sentence.count("Edge”") == 1
