"""Makes `layouts/` and the figures in the README's again, so that none is typed by hand."""

from __future__ import annotations

from pathlib import Path
from tempfile import TemporaryDirectory

from sheetcut.cost import percent
from sheetcut.document import plan_bytes
from sheetcut.draw import Drawing, glance, svg_text
from sheetcut.job import Job, Piece, Rules, Sheet
from sheetcut.layout import Plan
from sheetcut.plan import make_plan
from sheetcut.printout import Sheaf, drawings, how_good, money, sheaves
from sheetcut.read import read_studio
from sheetcut.units import mm
from tests.nest.jobs import sizes
from tests.published.problems import Problem, problems
from tests.quoted import Terminal, played

ROOT = Path(__file__).resolve().parent.parent
STUDIO = ROOT / "layouts" / "studio"
PUBLISHED = ROOT / "layouts" / "published"
ROUNDS = 200_000
LONGEST_MM = 600  # a published sheet's longer side is drawn as about so much paper
PAPER = "published problem"
MADE = "2026-11-25T09:00:00+00:00"


def studio_plan() -> Plan:
    """Return the plan of the demo studio's week, as kept."""
    studio = read_studio(ROOT / "demo")
    return make_plan(studio.job, seconds=60, made=MADE, input_hash=studio.input_hash)


def studio_files(plan: Plan) -> dict[str, bytes]:
    """Return name and content of all that is kept of a studio's plan."""
    return {
        "plan.json": plan_bytes(plan),
        "all-sheets.svg": svg_text(_all_sheets(plan, "The week")).encode(),
        **{name: text.encode() for name, text in drawings(plan).items()},
    }


def _all_sheets(plan: Plan, title: str) -> Drawing:
    entries = [(sheaf.title, sheaf.layouts[0]) for sheaf in sheaves(plan)]
    return glance(plan, entries, title=title)


def studio_table(plan: Plan) -> str:
    """Return the table of a studio's layouts."""
    rows = [
        "| drawing | blanks | cuts | scrap | paper | in all | how good |",
        "| --- | --- | --- | --- | --- | --- | --- |",
    ]
    files = iter(drawings(plan))
    for paper in plan.papers:
        said = "" if paper.cost is None else money(paper.cost, plan.job.currency)
        said = f"{paper.paper} | {said} | {how_good(plan, paper)}"
        for sheaf in sheaves(plan):
            if sheaf.paper is paper:
                rows.append(f"| {_layout_cells(sheaf, next(files))} | {said} |")
                said = "| |"
    return "\n".join(rows)


def _layout_cells(sheaf: Sheaf, file: str) -> str:
    layout = sheaf.layouts[0]
    scrap = percent(layout.waste.scrap, layout.width * layout.height)
    cuts = len(layout.squaring) + len(layout.cuts)
    return f"[{sheaf.title}](studio/{file}) | {len(layout.placements)} | {cuts} | {scrap} %"


def published_plan(problem: Problem) -> Plan:
    """Return the plan of a published problem, a unit of its being some whole millimetres."""
    unit = mm(LONGEST_MM // max(max(sheet[:2]) for sheet in problem.sheets))
    job = Job(
        sheets=tuple(
            Sheet(
                f"{width} x {height}",
                PAPER,
                width * unit,
                height * unit,
                price=price[0] if price else None,
                grain="none",
            )
            for width, height, *price in problem.sheets
        ),
        pieces=tuple(
            Piece(
                f"{number}",
                f"{width} x {height}",
                PAPER,
                width * unit,
                height * unit,
                count=count,
                turn=problem.turn,
            )
            for number, (width, height, count) in enumerate(sizes(problem.pieces), start=1)
        ),
        rules=Rules(reading_step=unit, keep_short=mm(5000), keep_long=mm(5000)),  # all is scrap
        studio=problem.name,
    )
    return make_plan(job, rounds=ROUNDS, seconds=3600, made=MADE)


def published_files(problem: Problem, plan: Plan) -> dict[str, bytes]:
    """Return name and content of all that is kept of a published problem."""
    drawing = _all_sheets(plan, f"{problem.name}, {_orientation(problem)}")
    return {
        f"{problem.file}.json": plan_bytes(plan),
        f"{problem.file}.svg": svg_text(drawing).encode(),
    }


def published_table(plans: dict[Problem, Plan]) -> str:
    """Return the table of published problems beside what is planned here."""
    rows = [
        "| problem | pieces | published optimum | planned | bound | reason |",
        "| --- | --- | --- | --- | --- | --- |",
    ]
    for problem, plan in plans.items():
        (paper,) = plan.papers
        count = sum(piece.count for piece in plan.job.pieces)
        value = paper.value(plan.job)
        proved = ", proved" if paper.proved else ""
        rows.append(
            f"| [{problem.name}, {_orientation(problem)}](published/{problem.file}.svg) | {count} "
            f"| {problem.least} | {value} | {paper.bound.value}{proved} | {paper.bound.reason} |"
        )
    return "\n".join(rows)


def _orientation(problem: Problem) -> str:
    return "turning allowed" if problem.turn == "yes" else "as written"


def with_part(text: str, name: str, part: str) -> str:
    """Return a page with what stands between its marks for a name replaced."""
    before, rest = text.split(f"<!-- {name} -->\n", 1)
    _, after = rest.split("<!-- end -->", 1)
    return f"{before}<!-- {name} -->\n{part}\n<!-- end -->{after}"


def pages(plan: Plan, published: dict[Problem, Plan]) -> dict[Path, str]:
    """Return the pages that quote plans and commands, as they should read."""
    readme, table = ROOT / "README.md", ROOT / "layouts" / "README.md"
    figures = with_part(table.read_text(encoding="utf-8"), "studio", studio_table(plan))
    with TemporaryDirectory() as folder:
        opening = played(readme.read_text(encoding="utf-8"), Terminal(Path(folder)))
    return {readme: opening, table: with_part(figures, "published", published_table(published))}


def main() -> None:
    """Write everything again."""
    plan = studio_plan()
    _keep(STUDIO, studio_files(plan))
    published = {problem: published_plan(problem) for problem in problems()}
    kept: dict[str, bytes] = {}
    for problem, one in published.items():
        kept |= published_files(problem, one)
    _keep(PUBLISHED, kept)
    for path, text in pages(plan, published).items():
        path.write_text(text, encoding="utf-8")


def _keep(folder: Path, files: dict[str, bytes]) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    for old in folder.glob("*"):
        old.unlink()
    for name, data in files.items():
        (folder / name).write_bytes(data)


if __name__ == "__main__":
    main()
