"""The plan document: to the letter, exact, and never read as something it is not."""

import json
from decimal import Decimal

import msgspec
import pytest

from sheetcut.document import FORM, UnreadablePlan, disagreements, plan_bytes, read_plan
from sheetcut.errors import SheetcutError


@pytest.fixture(scope="module")
def document(demo_plan) -> dict:
    """Return the demo's document as plain data, a fresh copy being the reader's business."""
    return json.loads(plan_bytes(demo_plan), parse_float=Decimal)


def spoiled(document, *path, value) -> bytes:
    """Return the document with one value changed, as bytes."""
    copy = json.loads(json.dumps(document, default=float))
    place = copy
    for key in path[:-1]:
        place = place[key]
    place[path[-1]] = value
    return json.dumps(copy).encode()


def test_it_is_read_back_as_it_was(demo_plan):
    data = plan_bytes(demo_plan)
    assert read_plan(data) == demo_plan
    assert plan_bytes(read_plan(data)) == data
    assert disagreements(data, demo_plan) == ()


def test_lengths_are_millimetres_and_money_is_the_currency(document):
    assert document["unit"] == "mm"
    imperial = document["sheets"][0]
    assert (imperial["width"], imperial["height"]) == (560, 760)
    assert imperial["price"] == Decimal("15.20")
    assert document["papers"][0]["cost"] == Decimal("75.40")
    assert document["papers"][0]["currency"] == "£"


def test_a_sixteenth_of_an_inch_is_written_exactly(demo_plan):
    """1/16 in is 1.5875 mm: 25.4 / 16, the inch being 25.4 mm by definition."""
    from dataclasses import replace  # noqa: PLC0415

    from sheetcut.units import inch  # noqa: PLC0415

    rules = replace(demo_plan.job.rules, reading_step=inch(1) // 16)
    plan = replace(demo_plan, job=replace(demo_plan.job, rules=rules))
    assert b'"reading_step": 1.5875' in plan_bytes(plan)
    assert read_plan(plan_bytes(plan)).job.rules.reading_step == inch(1) // 16


def test_a_blank_says_its_own_sizes_before_turning(document):
    blanks = [
        blank
        for paper in document["papers"]
        for layout in paper["layouts"]
        for blank in layout["blanks"]
    ]
    for blank in blanks:
        left, right, top, foot = blank["margin"]
        width = blank["finished"][0] + left + right + blank["rounding"][0]
        height = blank["finished"][1] + top + foot + blank["rounding"][1]
        lies = (height, width) if blank["turned"] else (width, height)
        assert lies == (blank["width"], blank["height"])


def test_waste_is_the_whole_sheet_exactly(document):
    for paper in document["papers"]:
        for layout in paper["layouts"]:
            waste = layout["waste"]
            parts = (waste[name] for name in ("finished", "margins", "keepers", "scrap"))
            assert sum(parts) == layout["width"] * layout["height"]


@pytest.mark.parametrize(
    ("path", "value"),
    [
        (("form",), "another form 1"),
        (("papers", 0, "layouts", 0, "blanks", 0, "x"), "left"),
        (("papers", 0, "layouts", 0, "blanks", 0, "x"), 0.00001),
        (("papers", 0, "layouts", 0, "blanks", 0, "order"), "nobody"),
        (("papers", 0, "layouts", 0, "cuts", 0, "edge"), "the middle"),
        (("papers", 0, "layouts", 0, "cuts", 0, "along"), "z"),
        (("papers", 0, "layouts", 0, "start"), ["up", "down"]),
        (("papers", 0, "bound", "measure"), "hope"),
        (("papers", 0, "cost"), 75.401),
        (("sheets", 0, "width"), -560),
        (("sheets", 0, "width"), 1e300),
        (("sheets", 0, "grain"), "sideways"),
        (("orders", 0, "count"), 0),
        (("orders", 0, "turn"), "round and round"),
        (("sheets", 1, "id"), "HP-IMP"),
    ],
)
def test_what_cannot_be_right_is_refused_in_a_sentence(document, path, value):
    with pytest.raises(SheetcutError) as refused:
        read_plan(spoiled(document, *path, value=value), source="plan.json")
    assert len(str(refused.value)) > 20


def test_a_figure_that_the_rest_contradicts_is_a_fault(document):
    data = spoiled(document, "papers", 0, "layouts", 0, "blanks", 0, "finished", value=[1, 2])
    faults = disagreements(data, read_plan(data))
    assert [fault.where for fault in faults] == [
        "plan, papers 1, layouts 1, blanks 1, finished 1",
        "plan, papers 1, layouts 1, blanks 1, finished 2",
    ]


def test_keys_of_a_later_writer_are_passed_over(document):
    data = spoiled(document, "weather", value="fine")
    assert read_plan(data).code == document["code"]


@pytest.mark.parametrize("data", [b"", b"  ", b"{", b"[]", b"\xff", b"{}", b'{"form": null}'])
def test_what_is_no_document_is_refused(data):
    with pytest.raises(UnreadablePlan):
        read_plan(data)


def test_its_form_is_named(document):
    assert document["form"] == FORM == "sheetcut plan 1"


def test_it_is_plain_json(demo_plan):
    assert msgspec.json.decode(plan_bytes(demo_plan)) == json.loads(plan_bytes(demo_plan))


def test_what_the_hands_must_know_is_in_the_document(document):
    """Heron 7 is 268 x 540 and gives one 230 x 530: 38 and 10 mm to spare, two marks.

    The marks run from edge to edge of the sheet, and the one over half a metre long gets a third.
    The long cut of the double elephant runs its usable 1000 mm, on a mat of 600: two of 500.
    """
    layouts = [layout for paper in document["papers"] for layout in paper["layouts"]]
    heron = next(layout for layout in layouts if layout["sheet"] == "heron 7")
    assert heron["slack"] == [38, 10]
    assert heron["fresh_readings"] == 0
    assert heron["flags"] == []
    marks = {(mark["along"], mark["at"]): mark for mark in heron["marks"]}
    assert set(marks) == {("x", 230), ("y", 530)}
    assert [mark["number"] for mark in heron["marks"]] == [1, 2]
    assert not any(mark["why_not"] for mark in heron["marks"])
    elephant = next(layout for layout in layouts if layout["sheet"] == "HP-DE")
    assert {"number", "kind", "words"} == set(elephant["flags"][0])
    assert any(flag["words"] == "slide the sheet at 500" for flag in elephant["flags"])


def test_a_slack_that_the_layout_contradicts_is_a_fault(document):
    data = spoiled(document, "papers", 0, "layouts", 0, "slack", value=[1, 1])
    found = disagreements(data, read_plan(data))
    assert any("slack" in fault.where for fault in found)
