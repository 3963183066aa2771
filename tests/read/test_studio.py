"""The settings file: what each setting does, and what is wrong with some."""

from fractions import Fraction

import pytest

from sheetcut.errors import ProblemsFound
from sheetcut.job import Paper
from sheetcut.read.studio import read_settings
from sheetcut.read.trading import Trading
from sheetcut.units import Edges, inch, mm


def settings(text):
    found, problems = read_settings("studio.toml", text.encode())
    assert problems == []
    return found


def problems(text):
    return [
        (problem.row, problem.field, problem.message, problem.remedy)
        for problem in read_settings("studio.toml", text.encode())[1]
    ]


def test_every_setting_is_read():
    found = settings(
        'name = "Tern Point"\ncurrency = "£"\nunit = "cm"\nreading-step = "0.5 mm"\n'
        'mat = "60 x 45"\nruler = 100\nprinter_width = 43.2\n"keep size" = "15 x 20"\n'
        'narrowest-strip = 1\ndeckle-trim = "8 mm"\naim = "fewest sheets"\n'
        'preference = "better leftover"\nsizes-sold = ["A4", "30 x 30"]\n'
        '[usual-margins]\ndrawing = 1.5\nprint = [2.5, 2.5, 2.5, "35 mm"]\ncard = {foot = 0.3}\n'
        '[paper."Marram Rag"]\ngrammage = 310\npasses = 2\naim = "least cost"\n'
        '[paper.Laid]\ngrammage = "160 g/m²"\n'
    )
    assert (found.name, found.currency, found.unit) == ("Tern Point", "£", "cm")
    rules = found.rules
    assert rules.reading_step == mm("0.5")
    assert (rules.mat, rules.ruler, rules.printer_width) == ((mm(600), mm(450)), mm(1000), mm(432))
    assert (rules.keep_short, rules.keep_long, rules.narrowest_strip) == (mm(150), mm(200), mm(10))
    assert (rules.aim, rules.preference) == ("fewest sheets", "better leftover")
    assert found.deckle_trim == mm(8)
    assert [size.width for size in found.sizes_sold] == [mm(210), mm(300)]
    assert found.usual_margins == {
        "drawing": Edges(*(mm(15),) * 4),
        "print": Edges(mm(25), mm(25), mm(25), mm(35)),
        "card": Edges(foot=mm(3)),
    }
    assert found.papers == (Paper("Marram Rag", 310, 2, "least cost"), Paper("Laid", 160))


def test_an_empty_file_sets_nothing():
    found = settings("# nothing yet\n")
    assert (found.name, found.unit, found.deckle_trim, found.papers) == ("", "mm", None, ())
    assert found.rules.reading_step is None


def test_inches_have_their_own_steps():
    found = settings('reading-step = "1/16 in"\nunit = "in"\nruler = "39 3/8"\n')
    assert found.rules.reading_step == inch("0.0625")
    assert found.rules.ruler == inch("39.375")


def test_a_keep_size_may_be_written_long_side_first():
    rules = settings('keep-size = "200 x 150"\n').rules
    assert (rules.keep_short, rules.keep_long) == (mm(150), mm(200))


@pytest.mark.parametrize(
    ("text", "row", "field", "found", "remedy"),
    [
        ('name = "a"\nruller = 5\n', 2, "", '"ruller" is not a setting', "ruler"),
        ("colour = 5\n", 1, "", '"colour" is not a setting', "write one of name"),
        ("\nruler = -5\n", 2, "ruler", "less than nothing", "210 mm"),
        ("ruler = 0\n", 1, "ruler", "is nothing", "more than 0"),
        ("ruler = true\n", 1, "ruler", "true is not a length", "600 mm"),
        ("ruler = [1]\n", 1, "ruler", "a list is not a length", "600 mm"),
        ("ruler = 2026-08-05\n", 1, "ruler", "is not a length", "600 mm"),
        ("ruler = nan\n", 1, "ruler", "is not a length", "210 mm"),
        ("ruler = 99999999999999999999\n", 1, "ruler", "far too large", "600"),
        ("ruler = 12 \nRuler = 13\n", 2, "ruler", "is there twice", "keep one"),
        ('mat = "600"\n', 1, "mat", "two lengths are wanted", "an x"),
        ("mat = 600\n", 1, "mat", "two lengths are wanted", "an x"),
        ('unit = "pt"\n', 1, "unit", 'the unit is "pt"', "mm, cm or in"),
        ('aim = "cheapest"\n', 1, "aim", 'the aim is "cheapest"', "least cost or fewest sheets"),
        ('aim = "least-costs"\n', 1, "aim", "the aim is", 'did you mean "least cost"'),
        ("name = 7\n", 1, "name", "is not text", "quotation marks"),
        ('name = "a\\u0007"\n', 1, "name", "unseen character", "again"),
        ('currency = "pounds 1"\n', 1, "currency", "not the sign", "EUR"),
        ('sizes-sold = "A4"\n', 1, "sizes sold", "is not a list", "A4"),
        ('sizes-sold = ["A4", "B4"]\n', 1, "sizes sold", "ISO B4", "JIS B4"),
        ("usual-margins = 5\n", 1, "usual margins", "is \"5\"", "[usual-margins]"),
        ("[usual-margins]\nposter = 5\n", 2, "usual margins", "not a setting", "write one of draw"),
        ("[usual-margins]\nprint = [1, 2]\n", 2, "usual margins, print", "2 lengths", "write four"),
        ("[usual-margins]\nprint = {north = 1}\n", 2, "usual margins, print", "no", "left, right"),
        ("paper = 5\n", 1, "paper", "paper is", "[paper."),
        ("paper.Rag = 5\n", None, "paper", "Rag", "[paper."),
        ("[paper.Rag]\ngramage = 5\n", 2, 'paper "Rag"', "is not a setting", "grammage"),
        ("[paper.Rag]\ngrammage = 0\n", 2, 'paper "Rag", grammage', "g/m²", "1 to 5000"),
        ('[paper.Rag]\ngrammage = "140 lb"\n', 2, 'paper "Rag", grammage', "pounds", "300"),
        ("[paper.Rag]\npasses = 2.5\n", 2, 'paper "Rag", passes', "passes", "1 to 100"),
        ('[paper.""]\npasses = 2\n', None, "paper", "has no name", "again"),
        ("[paper.Rag]\n[paper.rag]\n", None, "paper", "is there twice", "keep one"),
    ],
)  # fmt: skip
def test_a_setting_that_cannot_be_read_is_found_at_its_line(text, row, field, found, remedy):
    (problem,) = problems(text)
    assert problem[1] == field
    assert found in problem[2]
    assert remedy in problem[3]
    assert row is None or problem[0] == row


@pytest.mark.parametrize(
    ("text", "row"),
    [
        ("name = \n", 1),
        ('name = "a"\nmat = 600 x 450\n', 2),
        ('name = "a"\nname = "b"\n', None),
        ("[paper\n", 1),
        ("ruler = " + "[" * 5000, None),
        ("ruler = " + "9" * 5000, None),
        ("name = Tern Point\n", 1),
    ],
)
def test_a_file_that_is_not_written_as_settings_is_a_problem(text, row):
    with pytest.raises(ProblemsFound) as found:
        read_settings("studio.toml", text.encode())
    (problem,) = found.value.problems
    assert problem.source == "studio.toml"
    assert row is None or problem.row == row
    assert problem.remedy


def test_huge_numbers_in_any_setting_are_only_problems():
    assert len(problems(f"name = 0x{'F' * 9000}\nmat = 0x{'F' * 9000}\n")) == 2


def test_windows_files_are_read():
    text = 'name = "Café"\r\nruler = 1000\r\n'
    for encoding in ("utf-8-sig", "utf-16", "cp1252"):
        assert read_settings("studio.toml", text.encode(encoding))[0].name == "Café"


def test_charging_and_buying_are_read():
    found = settings(
        'currency = "£"\n[charging]\nhours = 3.5\nrate = "£22"\nmark-up = "1.5"\n'
        'round-up-to = 0.50\n[buying]\ncarriage = ["9.50", "4 from 80", "free from 150.00"]\n'
    ).trading
    assert (found.hours, found.rate, found.mark_up) == (Fraction(7, 2), 2200, Fraction(3, 2))
    assert found.round_up_to == 50
    assert found.carriage == ((0, 950), (8000, 400), (15000, 0))
    assert settings("[buying]\ncarriage = 9.50\n").trading.carriage == ((0, 950),)
    assert settings("").trading == Trading()


@pytest.mark.parametrize(
    ("text", "row", "says"),
    [
        ("[charging]\nrate = -3\n", 2, "less than nothing"),
        ('[charging]\nhours = "a day"\n', 2, "not a number of hours"),
        ("[charging]\nmark-up = 0\n", 2, "makes every charge nothing"),
        ("[charging]\nround-up-to = 0\n", 2, "nothing to round to"),
        ("[charging]\nhour-rate = 3\n", 2, "is not a setting"),
        ("charging = 3\n", 1, "charging is"),
        ('[buying]\ncarriage = ["free from 150.00"]\n', 2, "do not rise"),
        ('[buying]\ncarriage = ["9.50", "free from 0"]\n', 2, "do not rise"),
        ('[buying]\ncarriage = ["much"]\n', 2, "not a price"),
    ],
)
def test_a_charge_or_fee_that_cannot_be_is_refused_at_its_line(text, row, says):
    ((line, _, message, remedy),) = problems(text)
    assert line == row
    assert says in message
    assert remedy
