"""Writing a plan into a folder: whole, replaced only when asked, and under a banner if need be."""

import os
import unicodedata
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import QByteArray
from PySide6.QtGui import QImage

from layout_app.cli import main as cli
from layout_app.cli.main import main
from layout_app.paper.exporting import FORMAT_NAMES, FilesThereError, made_files, write
from layout_app.paper.ink import words_on
from layout_app.paper.matter import Matter, matter_of
from layout_app.paper.pack.whole import pack_pages
from layout_app.paper.publish import publish_files
from layout_app.paper.wish import ExportWish
from layout_app.store import atomic
from layout_app.store.errors import FileProblem
from layout_app.store.file_names import safe_name
from shared.building import Build, BuildStep, Hardware, StepKind
from shared.lengths import Unit
from shared.plan import Unplaced
from tests.layout_app.paper.matters import matter_of_plan
from tests.layout_app.small_job import planned, small_job
from tests.layout_app.store.test_store import PART, project, written

ALONE = ("json", "svg")


@pytest.fixture(scope="module")
def matter() -> Matter:
    """The small job with its first plan."""
    made = small_job()
    return matter_of_plan(made, planned(made))


def test_every_format_gives_files(matter: Matter, qapp) -> None:
    """None is empty, and no two have one name."""
    for name in FORMAT_NAMES:
        files = list(made_files(matter, (name,), ExportWish()))
        assert files
        assert all(data for _, data in files)
    every = [name for name, _ in made_files(matter, FORMAT_NAMES, ExportWish())]
    assert len(every) == len(set(every))


def test_a_fitted_picture_is_the_fitted_page(matter: Matter, qapp) -> None:
    """An A4 page that lies (ISO 216), to a tenth of a millimetre by its dots to the metre."""
    wish = ExportWish(fitted=True)
    (_, data), *_ = made_files(matter, ("png",), wish)
    page = QImage.fromData(QByteArray(data))
    size = (1000 * page.width() / page.dotsPerMeterX(), 1000 * page.height() / page.dotsPerMeterY())
    assert size == pytest.approx((297.0, 210.0), abs=0.1)
    (_, drawn), *_ = made_files(matter, ("svg",), wish)
    assert b">Scale 1:" in drawn
    assert b'id="check-bar"' in drawn


def test_files_are_replaced_only_when_asked(matter: Matter, tmp_path: Path) -> None:
    """A file that is there bars all others too; asked for, it is replaced."""
    first = write(matter, tmp_path, ("json",)).files[0]
    first.write_text("mine")
    with pytest.raises(FilesThereError) as there:
        write(matter, tmp_path, ALONE)
    assert there.value.files == (first,)
    assert [file.name for file in tmp_path.iterdir()] == ["plan.json"]
    write(matter, tmp_path, ALONE, replace=True)
    assert first.read_text() != "mine"


def test_a_full_disk_leaves_the_old_file_whole(
    matter: Matter, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The failure names the file; what was there is there still, and nothing half written."""
    old = write(matter, tmp_path, ("json",)).files[0]
    before = old.read_bytes()

    def full(descriptor: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(atomic.os, "fsync", full)
    with pytest.raises(FileProblem, match=r"plan\.json.*no space left on device"):
        write(matter, tmp_path, ("json",), replace=True)
    assert old.read_bytes() == before
    assert [file.name for file in tmp_path.iterdir()] == ["plan.json"]


def test_a_full_disk_leaves_the_old_set_whole(
    matter: Matter, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """When the last file has no room no other is replaced: the plan is that of the drawings."""
    formats = ("json", "svg", "publish")
    old = {file: file.read_bytes() for file in write(matter, tmp_path, formats).files}
    room = iter(range(len(old) - 1))

    def fills_up(_: int) -> None:
        if next(room, None) is None:
            raise OSError(28, "No space left on device")

    monkeypatch.setattr(atomic.os, "fsync", fills_up)
    other = matter_of_plan(replace(matter.job, name="Other"), replace(matter.plan, name="Other"))
    with pytest.raises(FileProblem, match="no space left on device"):
        write(other, tmp_path, formats, replace=True)
    now = {file: file.read_bytes() for file in tmp_path.rglob("*") if file.is_file()}
    assert now == old


def test_a_full_disk_leaves_no_new_folder(
    matter: Matter, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What was made for the files goes with them."""

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(atomic.os, "fsync", full)
    with pytest.raises(FileProblem):
        write(matter, tmp_path / "one" / "two", ("json", "publish"))
    assert list(tmp_path.iterdir()) == []


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write everywhere")
def test_a_read_only_folder_is_named(matter: Matter, tmp_path: Path) -> None:
    """The sentence says which file cannot be written and why."""
    tmp_path.chmod(0o500)
    with pytest.raises(FileProblem, match="permission denied"):
        write(matter, tmp_path, ("json",))


def test_a_sheet_id_cannot_leave_the_folder(matter: Matter, tmp_path: Path) -> None:
    """What stands in a file as the id of a sheet is no path."""
    drawing = replace(matter.drawings[0], sheet="../../etc/x")
    files = write(replace(matter, drawings=(drawing,)), tmp_path, ("svg",)).files
    assert {file.parent for file in files} == {tmp_path}


def test_sheets_of_like_names_have_a_drawing_each(matter: Matter, qapp) -> None:
    """Ids that become one name, on some system, give as many files in each format."""
    ids = ("a/b", "a:b", "A-B", "a-b", "a-b-2", "CON", "con ", "ä", "a\u0308", "x" * 90, "x" * 85)
    first, *_ = matter.drawings
    several = replace(matter, drawings=(first, *(replace(first, sheet=one) for one in ids)))
    for name, more in (("svg", 1), ("dxf", 0)):
        files = [file for file, _ in made_files(several, (name,), ExportWish())]
        same = {unicodedata.normalize("NFC", file).casefold() for file in files}
        assert len(same) == len(files) == len(several.drawings) + more
    published = [file for file in publish_files(several) if file.startswith("sheet-")]
    same = {unicodedata.normalize("NFC", file).casefold() for file in published}
    assert len(same) == len(published)
    drawn = 1 + len(several.drawings)  # the planned sheet in both units
    assert len(published) == 2 * drawn  # each as long as a page, and at true size


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("Case / back", "Case - back"),
        ("CON", "CON-"),
        ("lpt1.x", "lpt1.x-"),
        ("ends. ", "ends"),
        ('<>:"|?*', "plan"),
        ("", "plan"),
        ("a\x00b\u202ec", "a-b-c"),
        ("x" * 300, "x" * 80),
        ("\U0001fa9a" * 80, "\U0001fa9a" * 50),
        ("a\ud800b", "a\ufffdb"),
    ],
)
def test_names_that_every_system_takes(text: str, name: str) -> None:
    """Rules of "Naming files, paths, and namespaces" of the Windows documentation, from memory."""
    assert safe_name(text) == name


def test_parts_on_no_sheet_stand_on_every_page(matter: Matter, qapp) -> None:
    """A plan that is not whole says so in each SVG, and on each page of pack and labels."""
    part = matter.plan.parts[0]
    lacking = replace(matter.plan, unplaced=(Unplaced(part=part.id, copies=1, need="a sheet"),))
    made = matter_of_plan(matter.job, lacking)
    assert "NOT A WHOLE PLAN" in made.banner
    for _, data in made_files(made, ("svg",), ExportWish()):
        assert b"NOT A WHOLE PLAN" in data
    for page in pack_pages(made):
        said = " ".join(words.text for words, _ in words_on(page.items))
        assert "NOT A WHOLE PLAN" in said, page.title


def test_steps_and_hardware_are_in_the_pack(matter: Matter) -> None:
    """What comes after sawing stands in the pack with the names of its parts, and on labels."""
    part = matter.job.parts[0]
    step = BuildStep(kind=StepKind.GROOVE, text="1/4 by 1/4", parts=(part.id,))
    build = Build(steps=(step,), hardware=(Hardware(name="foot", count=4),))
    pages = pack_pages(replace(matter, build=build))
    said = [words.text for page in pages for words, _ in words_on(page.items)]
    assert {"After sawing", "1/4 by 1/4", "foot"} <= set(said)
    assert "next: groove" in " ".join(said)
    bare = {words.text for page in pack_pages(matter) for words, _ in words_on(page.items)}
    assert not {"After sawing", "Hardware"} & bare


def test_another_unit_is_written_not_the_plan_changed(matter: Matter) -> None:
    """The same ticks are told in millimetres; nothing of the plan is another."""
    metric = matter_of_plan(matter.job, matter.plan, unit=Unit.MM)
    assert metric.plan == matter.plan
    (_, inches), *_ = made_files(matter, ("svg",), ExportWish())
    (_, millimetres), *_ = made_files(metric, ("svg",), ExportWish())
    assert inches != millimetres


def test_the_same_plan_gives_the_same_drawings(matter: Matter) -> None:
    """Twice made, every SVG has the same bytes."""
    again = matter_of(matter.job, matter.plan)
    for fitted in (False, True):
        wish = ExportWish(fitted=fitted)
        first, second = (list(made_files(m, ("svg",), wish)) for m in (matter, again))
        assert first == second


def test_the_command_writes_what_is_asked_for(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], qapp
) -> None:
    """All formats at once; a second time it refuses in one sentence, unless told to replace."""
    path = written(tmp_path, project(parts=[PART | {"copies": 4}]))
    words = ["plan", str(path), "--out", str(tmp_path / "out"), "--time-limit", "0"]
    words += ["--workers", "1", "--format", "json,svg,pdf,png,labels", "--unit", "mm"]
    assert main(words) == cli.ALL_PLANNED
    names = {file.name for file in (tmp_path / "out").iterdir()}
    wanted = {"plan.json", "sheet-1.svg", "cut-pack.pdf", "sheet-1.png", "labels.pdf"}
    assert names == wanted
    capsys.readouterr()
    assert main(words) == cli.UNUSABLE
    assert "--replace" in capsys.readouterr().err
    assert main([*words, "--replace"]) == cli.ALL_PLANNED
