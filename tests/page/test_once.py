"""What the page remembers: of a plan by the very plan, of a studio as long as it is unchanged."""

from dataclasses import replace
from datetime import datetime

from sheetcut.drawer import Store
from sheetcut.page.on_the_mat import all_on_the_mat
from sheetcut.page.once import once_for
from sheetcut.page.studio import Desk
from sheetcut.printout import sheaves

NOW = datetime(2026, 11, 25, 14, 3)


def test_what_is_asked_of_the_same_thing_again_is_not_worked_out_again():
    times = []

    @once_for(2)
    def doubled(things, by=2):
        times.append(things)
        return things * by

    one, alike = [1], [1]
    assert doubled(one) == doubled(one) == [1, 1]
    assert len(times) == 1
    doubled(alike)  # equal, and yet another: two plans are not compared, that takes too long
    assert len(times) == 2
    assert doubled(one, 3) == [1, 1, 1]
    assert len(times) == 3


def test_what_lies_on_the_mat_is_that_of_the_plan_at_hand(demo_plan):
    """Of two plans with one code and one day, each keeps its own titles."""
    named = replace(demo_plan.job.sheets[0], name="Another name")
    job = replace(demo_plan.job, sheets=(named, *demo_plan.job.sheets[1:]))
    other = replace(demo_plan, job=job)
    for plan in (demo_plan, other, demo_plan):
        titles = [at.sheaf.title for at in all_on_the_mat(plan)]
        assert titles == [sheaf.title for sheaf in sheaves(plan)]


def test_what_is_wanted_is_read_again_after_every_change(studio):
    """By whatever program: each line's note counts up, and the page's desk sees each of them."""
    at = Desk(studio)
    line = at.present().job.pieces[0].order
    before = at.present()
    assert at.present().job is before.job, "nothing changed, so nothing is read"
    for number in range(5):
        with Store.open(studio) as other, other.changing(NOW) as change:
            row = change.one("order_line", name=line)
            change.alter("order_line", row["id"], {"note": str(number)})
            change.says = "The same sentence each time"
        now = at.present()
        assert next(one.note for one in now.job.pieces if one.order == line) == str(number)
        assert now.input_hash != before.input_hash


def test_a_copy_brought_back_is_read_though_it_has_as_many_entries(studio):
    """The file is put back as it was, and another change is made in the same second."""
    at, path = Desk(studio), studio / "studio.sqlite"
    copy = path.read_bytes()
    line = at.present().job.pieces[0].order

    def noted(note):
        with Store.open(studio) as store, store.changing(NOW) as change:
            row = change.one("order_line", name=line)
            change.alter("order_line", row["id"], {"note": note})
            change.says = "A note"
        return next(one.note for one in at.present().job.pieces if one.order == line)

    assert noted("first") == "first"
    path.unlink()
    path.write_bytes(copy)
    assert noted("other") == "other"


def test_a_moment_is_the_same_until_something_is_done(studio):
    with Store.open(studio) as store:
        moment = store.moment()
        assert store.moment() == moment
        store.undo(now=NOW)
        assert store.moment() != moment
