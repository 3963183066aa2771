"""A new studio's files: they can be planned as they stand, and nothing is written over."""

import pytest

from sheetcut.read import FilesInTheWay, NotWritten, read_studio, write_blank_studio


def test_a_new_studio_can_be_read_as_it_stands(tmp_path):
    folder = tmp_path / "new" / "studio"
    paths = write_blank_studio(folder)
    assert [path.name for path in paths] == ["orders.csv", "drawer.csv", "studio.toml"]
    studio = read_studio(folder)
    assert studio.notes == ()
    assert [piece.kind for piece in studio.job.pieces] == ["drawing", "print"]
    assert {sheet.kind for sheet in studio.job.sheets} == {"full", "offcut"}
    assert studio.job.papers[0].grammage == 300


def test_the_tables_open_in_any_spreadsheet(tmp_path):
    for path in write_blank_studio(tmp_path)[:2]:
        content = path.read_bytes()
        assert content.startswith(b"\xef\xbb\xbf")
        assert content.count(b"\n") == content.count(b"\r\n") == 3


def test_every_setting_that_is_offered_can_be_used(tmp_path):
    """Each line that is commented out is a setting; all of them together are read."""
    settings = write_blank_studio(tmp_path)[2]
    text = settings.read_text(encoding="utf-8")
    lines = [
        line.removeprefix("# ") if line.startswith(("# [",)) or " = " in line else line
        for line in text.splitlines()
    ]
    settings.write_text("\n".join(lines), encoding="utf-8")
    found = read_studio(tmp_path).settings
    assert found.rules.mat is not None
    assert found.rules.reading_step is not None
    assert found.deckle_trim is not None
    assert set(found.usual_margins) == {"drawing", "print", "card"}
    assert len(found.sizes_sold) == 4


@pytest.mark.parametrize("name", ["orders.csv", "drawer.xlsx", "studio.toml"])
def test_a_file_in_the_way_stops_everything(tmp_path, name):
    (tmp_path / name).write_bytes(b"mine")
    with pytest.raises(FilesInTheWay) as in_the_way:
        write_blank_studio(tmp_path)
    assert in_the_way.value.names == (name,)
    assert [path.name for path in tmp_path.iterdir()] == [name]
    assert (tmp_path / name).read_bytes() == b"mine"


def test_a_folder_that_cannot_be_made_is_said_in_words(tmp_path):
    (tmp_path / "file").write_bytes(b"")
    with pytest.raises(NotWritten, match="name a folder"):
        write_blank_studio(tmp_path / "file" / "studio")


def test_nothing_is_left_behind_when_a_file_cannot_be_written(tmp_path):
    """A link to nowhere does not exist, and cannot be written through either."""
    (tmp_path / "studio.toml").symlink_to(tmp_path / "nowhere" / "studio.toml")
    with pytest.raises(NotWritten):
        write_blank_studio(tmp_path)
    assert [path.name for path in tmp_path.iterdir()] == ["studio.toml"]
