"""Project files from the time when a price could not be left out."""

from pathlib import Path

from layout_app.store.project_file import project_text, read_project

GOLDEN = Path(__file__).with_name("golden") / "version_1.ripfirst.json"


def test_a_price_of_0_in_an_old_file_is_no_price() -> None:
    """It stood for what nobody had priced; prices that say something stay, and so does the rest."""
    project = read_project(GOLDEN)
    prices = {row.id: (row.price, row.at_hand) for row in project.job.stock}
    assert prices == {"full": (None, None), "rest": (None, 1), "good": (8_400, None)}
    assert project.job.name == "Seed trays"


def test_a_price_of_0_is_kept_from_now_on(tmp_path: Path) -> None:
    """Written by this version it is a price; the file says which version it is."""
    text = project_text(read_project(GOLDEN)).replace('"price": 8400', '"price": 0')
    path = tmp_path / "new.ripfirst.json"
    path.write_text(text, "utf-8")
    assert '"version": 2' in text
    assert [row.price for row in read_project(path).job.stock] == [None, None, 0]
