"""The registers of editions: what the store keeps of them, takes back, and refuses."""

import pytest

from sheetcut.answers.edition import Edition
from sheetcut.answers.kept_register import (
    begin,
    enter_printed,
    enter_sold,
    enter_spoiled,
    register_of,
    registers,
)
from sheetcut.answers.register import EditionFull, NotInRegister
from sheetcut.drawer import Store, enter_prints, remove_edition
from sheetcut.drawer.refusals import NameTaken
from sheetcut.drawer.registers import EditionInUse, NoEdition
from tests.drawer.studio import NOW, begun, demo_drawing_paper


@pytest.fixture
def store(tmp_path):
    with begun(tmp_path, demo_drawing_paper()) as store:
        begin(store, "Slack Water", Edition(40), now=NOW)
        yield store


def names(store, state="printed"):
    name, register = register_of(store, "slack  water")
    assert name == "Slack Water"
    return [register.name(one) for one in register.prints if one.state == state]


def test_prints_are_numbered_from_where_the_register_stands(store):
    """A tenth of 40 are 4 artist's proofs; certificates run through in the order of entry."""
    assert enter_printed(store, "Slack Water", 3, now=NOW).endswith(
        "1/40 to 3/40, certificates 1 to 3"
    )
    enter_printed(store, "Slack Water", 1, mark="A.P.", now=NOW)
    said = enter_printed(store, "Slack Water", 1, now=NOW)
    assert said == "Printed of Slack Water: 4/40, certificate 5"
    _, register = register_of(store, "Slack Water")
    assert (register.next_number, register.proofs_left) == (5, 3)


def test_a_register_outlives_its_program(store, tmp_path):
    enter_printed(store, "Slack Water", 2, now=NOW)
    enter_sold(store, "Slack Water", "2/40", to="Merrin", now=NOW)
    before = registers(store)
    store.close()
    with Store.open(tmp_path) as again:
        assert registers(again) == before
        assert registers(again)["Slack Water"].prints[1].note == "Merrin"


def test_everything_entered_can_be_taken_back_and_done_again(store):
    """Step by step to before the edition was begun, and forward to the same register."""
    enter_printed(store, "Slack Water", 3, now=NOW)
    enter_spoiled(store, "Slack Water", "2", why="head strike", now=NOW)
    enter_printed(store, "Slack Water", 1, now=NOW)
    enter_sold(store, "Slack Water", "3/40", now=NOW)
    after = registers(store)
    assert [one.number for one in after["Slack Water"].good("number")] == [1, 2, 3]
    for _ in range(5):
        store.undo(now=NOW)
    assert registers(store) == {}
    for _ in range(5):
        store.redo(now=NOW)
    assert registers(store) == after


def test_a_spoiled_print_frees_its_number_and_certificate(store):
    enter_printed(store, "Slack Water", 3, now=NOW)
    said = enter_spoiled(store, "Slack Water", "2/40", why="head strike", now=NOW)
    assert said == "Spoiled of Slack Water: 2/40, certificate 2 free again, head strike"
    said = enter_printed(store, "Slack Water", 2, now=NOW)
    assert said == "Printed of Slack Water: 2/40, 4/40, certificates 2, 4"
    assert names(store, "spoiled") == ["2/40"]


def test_what_cannot_be_entered_changes_nothing(store):
    enter_printed(store, "Slack Water", 39, now=NOW)
    before, told = registers(store), len(store.history())
    with pytest.raises(EditionFull, match="2 numbers are wanted and 1 are left"):
        enter_printed(store, "Slack Water", 2, now=NOW)
    with pytest.raises(NotInRegister, match="40/40"):
        enter_sold(store, "Slack Water", "40/40", now=NOW)
    with pytest.raises(NoEdition, match='did you mean "Slack Water"'):
        enter_printed(store, "Slak Water", 1, now=NOW)
    with pytest.raises(NameTaken):
        begin(store, "Slack Water", Edition(10), now=NOW)
    with pytest.raises(EditionInUse, match="39 prints"):
        remove_edition(store, "Slack Water", now=NOW)
    with pytest.raises(ValueError, match="stays in the register"):
        enter_prints(store, "Slack Water", lambda _: ([], "nothing"), now=NOW)
    assert (registers(store), len(store.history())) == (before, told)


def test_an_empty_register_can_be_taken_out(store):
    remove_edition(store, "Slack Water", now=NOW)
    assert registers(store) == {}
    with pytest.raises(NoEdition, match="begin it with"):
        register_of(store, "Slack Water")
