"""What a plan says of all its papers together: sums of a week that are added up by hand."""

from dataclasses import replace

from sheetcut.layout import Bound

WEEK = {"Slatehouse": 7540, "Marram": 4560, "Gullwing": 144}


def with_bounds(plan, **bounds):
    """Return the week with these bounds, in cash or told, by the first words of papers' names."""
    told = {name: Bound("cost", cash, "proved") for name, cash in WEEK.items()} | bounds
    return replace(
        plan,
        papers=tuple(replace(one, bound=told[one.paper.split()[0]]) for one in plan.papers),
    )


def test_bounds_in_cash_add_up(demo_plan):
    """75.40, 45.60 and 1.44 are 122.44, and each paper's reason is told with its name."""
    bound = with_bounds(demo_plan).bound
    assert (bound.measure, bound.value) == ("cost", 12_244)
    names = "Slatehouse Smooth", "Marram Rag", "Gullwing Laid"
    assert bound.reason == "; ".join(f"{name}: proved" for name in names)


def test_cash_beside_sheets_is_counted_as_the_fewest_sheets_it_can_buy(demo_plan):
    """The dearest smooth sheet is 29.80, so 75.40 are three at least; 45.60 are four at 11.40."""
    mixed = with_bounds(demo_plan, Gullwing=Bound("sheets", 5, "counted"))
    assert (mixed.bound.measure, mixed.bound.value) == ("sheets", 3 + 4 + 5)
    more = Bound("cost", 4561, "a cent more")
    one_more = with_bounds(demo_plan, Gullwing=Bound("sheets", 5, "counted"), Marram=more)
    assert one_more.bound.value == 3 + 5 + 5


def test_sheets_without_a_price_are_bounded_by_nothing_in_cash(demo_plan):
    mixed = with_bounds(demo_plan, Gullwing=Bound("sheets", 5, "counted"))
    job = mixed.job
    free = replace(job, sheets=tuple(replace(one, price=None) for one in job.sheets))
    assert replace(mixed, job=free).bound.value == 5


def test_a_single_paper_speaks_for_itself(demo_plan):
    alone = replace(demo_plan, papers=demo_plan.papers[:1])
    assert alone.bound == demo_plan.papers[0].bound
