"""How files take their places: whole, several together, through links, in folders just made."""

import os
import stat
import time
from pathlib import Path

import pytest

from layout_app.store import atomic, beside
from layout_app.store.errors import FileProblem
from layout_app.store.guards import Claim


def test_saving_replaces_the_whole_file_and_leaves_nothing_beside_it(tmp_path: Path) -> None:
    """After saving twice there is one file, with the rights the first one had."""
    path = tmp_path / "p.json"
    atomic.save(path, b"first, and longer")
    path.chmod(0o640)
    atomic.save(path, b"second")
    assert path.read_bytes() == b"second"
    assert [one.name for one in tmp_path.iterdir()] == ["p.json"]
    if os.name == "posix":
        assert stat.S_IMODE(path.stat().st_mode) == 0o640


def test_a_save_that_fails_leaves_the_old_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """When the disk is full the old file is whole and no temporary one remains."""

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    path = tmp_path / "p.json"
    atomic.save(path, b"old")
    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(FileProblem, match="no space left on device"):
        atomic.save(path, b"new")
    assert path.read_bytes() == b"old"
    assert [one.name for one in tmp_path.iterdir()] == ["p.json"]


@pytest.mark.skipif(os.name != "posix", reason="links of this kind are a matter of POSIX")
def test_saving_through_a_link_writes_what_it_points_to(tmp_path: Path) -> None:
    """A link stays a link."""
    (tmp_path / "real.json").write_bytes(b"old")
    (tmp_path / "link.json").symlink_to(tmp_path / "real.json")
    atomic.save(tmp_path / "link.json", b"new")
    assert (tmp_path / "link.json").is_symlink()
    assert (tmp_path / "real.json").read_bytes() == b"new"


@pytest.mark.skipif(os.name != "posix", reason="links of this kind are a matter of POSIX")
def test_a_link_to_nothing_is_not_written_through(tmp_path: Path) -> None:
    """Neither what it names is made, nor is the link replaced; nor one that leads to itself."""
    link, ring = tmp_path / "link.json", tmp_path / "ring.json"
    link.symlink_to(tmp_path / "gone.json")
    ring.symlink_to(ring)
    with pytest.raises(FileProblem, match="a link to a file that is not there"):
        atomic.save(link, b"new")
    with pytest.raises(FileProblem, match="too many levels of symbolic links"):
        atomic.save(ring, b"new")
    assert sorted(one.name for one in tmp_path.iterdir()) == ["link.json", "ring.json"]
    assert link.is_symlink()
    assert ring.is_symlink()


@pytest.mark.skipif(os.name != "posix", reason="rights of this kind are a matter of POSIX")
def test_a_write_protected_file_is_not_replaced(tmp_path: Path) -> None:
    """Its folder may be written in, and an administrator may do all; it stays as it is."""
    path = tmp_path / "p.json"
    path.write_bytes(b"old")
    path.chmod(0o444)
    with pytest.raises(FileProblem, match="write-protected"):
        atomic.save(path, b"new")
    assert path.read_bytes() == b"old"


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="there are no such files")
def test_what_is_no_file_is_not_replaced(tmp_path: Path) -> None:
    """A pipe stays a pipe; the same holds for devices."""
    os.mkfifo(tmp_path / "pipe")
    with pytest.raises(FileProblem, match="a device or a pipe"):
        atomic.save(tmp_path / "pipe", b"new")
    assert stat.S_ISFIFO((tmp_path / "pipe").stat().st_mode)


def test_several_files_take_their_places_together(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """When the second cannot be moved, the first is what it was and the new third is not there."""
    for name in ("a", "b"):
        (tmp_path / name).write_bytes(b"old")
    true = os.replace

    def fails_at_b(source: str, target: Path) -> None:
        if target.name == "b":
            raise OSError(5, "Input/output error")
        true(source, target)

    monkeypatch.setattr(os, "replace", fails_at_b)
    with pytest.raises(FileProblem, match="input/output error"):
        atomic.save_all([(tmp_path / name, b"new") for name in ("c", "a", "b")])
    assert {one.name: one.read_bytes() for one in tmp_path.iterdir()} == {"a": b"old", "b": b"old"}


def test_nothing_of_a_set_is_changed_on_a_full_disk(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """When the second has no room, the first is what it was, and nothing lies beside them."""
    for name in ("a", "b"):
        (tmp_path / name).write_bytes(b"old")
    room = iter((None,))

    def fills_up(_: int) -> None:
        if next(room, "full") == "full":
            raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", fills_up)
    with pytest.raises(FileProblem, match="no space left on device"):
        atomic.save_all([(tmp_path / name, b"new") for name in ("a", "b")])
    assert {one.name: one.read_bytes() for one in tmp_path.iterdir()} == {"a": b"old", "b": b"old"}


def test_a_name_that_leaves_no_room_for_more_is_saved(tmp_path: Path) -> None:
    """With 255 bytes, the most that systems take, it has a lock and is written in one piece."""
    path = tmp_path / ("ä" * 125 + ".json")
    assert len(path.name.encode()) == 255
    claim = Claim()
    assert claim.take(path)
    assert not Claim().take(path)
    claim.release()
    atomic.save(path, b"new")
    assert [one.name for one in tmp_path.iterdir()] == [path.name]


def test_what_killed_programs_left_goes_with_the_next_save(tmp_path: Path) -> None:
    """A dead writer's file goes, and an old one of any; what is written now or is alike stays."""
    path, day = tmp_path / "p.json", 24 * 3600
    descriptor, own = beside.begin(path)
    os.close(descriptor)
    writer = own.rsplit(".", 2)[1]
    dead, others = writer.replace(str(os.getpid()), "999999999", 1), writer.replace("-", "-f", 1)
    alive = writer.replace(str(os.getpid()), str(os.getppid()), 1)
    for name, age in {
        f".p.json.{dead}.tmp": 0,
        ".p.json.abcd_123.tmp": 2 * day,
        f".p.json.{alive}.tmp": 0,
        ".p.json.wxyz_789.tmp": 60,
        f".q.json.{dead}.tmp": 0,
        ".p.json.lock": 2 * day,
        ".p.json.mine.tmp": 2 * day,
        f".p.json.{others}.tmp": 60,
    }.items():
        (tmp_path / name).write_bytes(b"half")
        os.utime(tmp_path / name, (time.time() - age,) * 2)
    atomic.save(path, b"new")
    gone = {f".p.json.{dead}.tmp", ".p.json.abcd_123.tmp"}
    left = {one.name for one in tmp_path.iterdir()}
    assert not left & gone
    assert len(left) == 8
    assert Path(own).name in left
    beside.end(own)


def test_a_folder_that_cannot_be_written_in_is_told(tmp_path: Path) -> None:
    """A file where the folder should be is the reason why it cannot be made."""
    (tmp_path / "file").write_text("x")
    with pytest.raises(FileProblem, match="this folder cannot be written in"):
        atomic.make_folder(tmp_path / "file" / "out")
    atomic.make_folder(tmp_path / "new" / "out")
    assert (tmp_path / "new" / "out").is_dir()


def test_a_folder_is_checked_without_being_made(tmp_path: Path) -> None:
    """What could be made is right, what lies below a file is not; neither leaves a trace."""
    (tmp_path / "file").write_text("x")
    atomic.check_folder(tmp_path / "new" / "out")
    for wrong in (tmp_path / "file", tmp_path / "file" / "out", tmp_path / ("x" * 300)):
        with pytest.raises(FileProblem, match="cannot be written in"):
            atomic.check_folder(wrong)
    assert [one.name for one in tmp_path.iterdir()] == ["file"]


def test_new_folders_go_again_only_while_they_are_empty(tmp_path: Path) -> None:
    """After a fault only what was made and holds nothing is gone."""
    there = tmp_path / "there"
    there.mkdir()

    def fails_later() -> None:
        with atomic.new_folders() as make:
            make(there)
            make(tmp_path / "used" / "empty")
            make(tmp_path / "lost" / "deep")
            (tmp_path / "used" / "file").write_text("x")
            raise RuntimeError

    with pytest.raises(RuntimeError):
        fails_later()
    assert sorted(one.name for one in tmp_path.rglob("*")) == ["file", "there", "used"]


def test_new_folders_stay_when_all_went_well(tmp_path: Path) -> None:
    """Nothing is taken away that was asked for."""
    with atomic.new_folders() as make:
        make(tmp_path / "new" / "out")
    assert (tmp_path / "new" / "out").is_dir()
