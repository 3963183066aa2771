"""Makes `layouts/` and the figures in the README's again, so that none is typed by hand."""

from __future__ import annotations

from pathlib import Path

from sheetcut.cost import percent
from sheetcut.document import plan_bytes
from sheetcut.layout import Plan
from sheetcut.plan import make_plan
from sheetcut.printout import Sheaf, drawings, how_good, money, sheaves, summary_lines
from sheetcut.read import read_studio

ROOT = Path(__file__).resolve().parent.parent
STUDIO = ROOT / "layouts" / "studio"
MADE = "2026-11-25T09:00:00+00:00"


def studio_plan() -> Plan:
    """Return the plan of the demo studio's week, as kept."""
    studio = read_studio(ROOT / "demo")
    return make_plan(studio.job, seconds=60, made=MADE, input_hash=studio.input_hash)


def studio_files(plan: Plan) -> dict[str, bytes]:
    """Return name and content of all that is kept of a studio's plan."""
    return {
        "plan.json": plan_bytes(plan),
        **{name: text.encode() for name, text in drawings(plan).items()},
    }


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


def with_part(text: str, name: str, part: str) -> str:
    """Return a page with what stands between its marks for a name replaced."""
    before, rest = text.split(f"<!-- {name} -->\n", 1)
    _, after = rest.split("<!-- end -->", 1)
    return f"{before}<!-- {name} -->\n{part}\n<!-- end -->{after}"


def pages(plan: Plan) -> dict[Path, str]:
    """Return the pages that quote a plan, as they should read."""
    readme, table = ROOT / "README.md", ROOT / "layouts" / "README.md"
    printed = "```text\n" + "\n".join(summary_lines(plan)) + "\n```"
    return {
        readme: with_part(readme.read_text(encoding="utf-8"), "demo: python3 demo", printed),
        table: with_part(table.read_text(encoding="utf-8"), "studio", studio_table(plan)),
    }


def main() -> None:
    """Write everything again."""
    plan = studio_plan()
    STUDIO.mkdir(parents=True, exist_ok=True)
    for old in STUDIO.glob("*"):
        old.unlink()
    for name, data in studio_files(plan).items():
        (STUDIO / name).write_bytes(data)
    for path, text in pages(plan).items():
        path.write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
