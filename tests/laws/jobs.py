"""Random jobs that laws are tried on: small, but with every rule of a drawer and its orders."""

from dataclasses import replace

from hypothesis import strategies as st

from sheetcut.job import Job, Piece, Rules, Sheet
from sheetcut.units import Edges, inch, mm

PAPERS = ("Slatehouse Smooth", "Marram Rag")
GRAINS = ("along width", "along height", "none", "not known")
TURNS = ("yes", "no", "grain up", "grain across", "alike")
FLIPPED = {"along width": "along height", "along height": "along width"}
CROSSED = {"grain up": "grain across", "grain across": "grain up"}


def edges(most_mm: int) -> st.SearchStrategy[Edges]:
    """Return four edge values, none often, each at most so many whole millimetres."""
    one = st.integers(0, most_mm).map(mm)
    return st.one_of(st.just(Edges()), st.builds(Edges, one, one, one, one))


@st.composite
def sheets(draw, number: int, paper: str) -> Sheet:
    """Return a full sheet or an offcut of one paper, millimetres or inches."""
    in_inches = draw(st.booleans())
    length = (
        st.integers(40, 500).map(lambda n: inch(n) // 16)
        if in_inches
        else st.integers(60, 800).map(mm)
    )
    offcut = draw(st.integers(0, 3)) == 0
    return Sheet(
        id=f"{paper[:3]} {number}",
        paper=paper,
        width=draw(length),
        height=draw(length),
        on_hand=1 if offcut else draw(st.sampled_from([None, None, 0, 1, 2, 5])),
        price=draw(st.one_of(st.none(), st.integers(0, 4000))),
        edge_loss=draw(edges(10)),
        grain=draw(st.sampled_from(GRAINS)),
        kind="offcut" if offcut else "full",
        unit="in" if in_inches else "mm",
    )


@st.composite
def pieces(draw, number: int, paper: str) -> Piece:
    """Return an order line; some are too large for any sheet."""
    side = st.one_of(
        st.integers(20, 400).map(mm), st.integers(200, 4000).map(lambda n: mm(n) // 10)
    )
    return Piece(
        order=f"line {number}",
        label=draw(st.text(max_size=12)),
        paper=paper,
        width=draw(side),
        height=draw(side),
        count=draw(st.integers(1, 4)),
        turn=draw(st.sampled_from(TURNS)),
        margin=draw(edges(15)),
        due=draw(st.one_of(st.none(), st.dates())),
    )


@st.composite
def jobs(draw, most_lines: int = 6) -> Job:
    """Return a job of one or two papers."""
    papers = draw(st.sampled_from([PAPERS[:1], PAPERS]))
    made = [
        draw(sheets(number, paper)) for paper in papers for number in range(draw(st.integers(1, 3)))
    ]
    lines = [
        draw(pieces(number, draw(st.sampled_from(papers))))
        for number in range(draw(st.integers(1, most_lines)))
    ]
    step = draw(st.sampled_from([None, mm(1), mm("0.5"), inch(1) // 16]))
    aim = draw(st.sampled_from([None, "fewest sheets"]))
    rules = Rules(reading_step=step, aim=aim, keep_short=mm(100), keep_long=mm(150))
    return Job(made, lines, rules, studio="Tern Point", currency="£")


def transposed(job: Job) -> Job:
    """Return the same job with width and height changing places everywhere."""
    return replace(
        job,
        sheets=tuple(
            replace(
                sheet,
                width=sheet.height,
                height=sheet.width,
                edge_loss=_across(sheet.edge_loss),
                grain=FLIPPED.get(sheet.grain, sheet.grain),
            )
            for sheet in job.sheets
        ),
        pieces=tuple(
            replace(
                piece,
                width=piece.height,
                height=piece.width,
                margin=_across(piece.margin),
                border=_across(piece.border),
                turn=CROSSED.get(piece.turn, piece.turn),
            )
            for piece in job.pieces
        ),
    )


def _across(edges: Edges) -> Edges:
    return Edges(left=edges.foot, right=edges.top, top=edges.right, foot=edges.left)


def scaled(job: Job, times: int) -> Job:
    """Return the same job with every length so many times as long, reading step included."""
    return replace(
        job,
        sheets=tuple(
            replace(
                sheet,
                width=sheet.width * times,
                height=sheet.height * times,
                edge_loss=Edges(*(edge * times for edge in sheet.edge_loss)),
            )
            for sheet in job.sheets
        ),
        pieces=tuple(
            replace(
                piece,
                width=piece.width * times,
                height=piece.height * times,
                margin=Edges(*(edge * times for edge in piece.margin)),
            )
            for piece in job.pieces
        ),
        rules=replace(
            job.rules,
            reading_step=None if job.rules.reading_step is None else job.rules.reading_step * times,
        ),
    )
