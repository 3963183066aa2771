"""Writes a plan as its document: records to rows to JSON."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from decimal import Decimal

import msgspec

from sheetcut.document.rows import (
    FORM,
    AlternativeRow,
    BlankRow,
    BoundRow,
    CutRow,
    FiguresRow,
    FlagRow,
    Four,
    JobRows,
    KeeperRow,
    LayoutRow,
    MarkRow,
    OrderRow,
    PaperPlanRow,
    PaperRow,
    PlanDocument,
    RulesRow,
    SheetRow,
    ShortRow,
    SkewRow,
    SquaringRow,
    Two,
    WasteRow,
)
from sheetcut.handling import (
    cash_for,
    figures_of,
    flags,
    fresh_readings,
    marks,
    sheets_cut,
    slack,
)
from sheetcut.job import Job, Piece, Sheet, Skew, reading_step
from sheetcut.layout import Alternative, Cut, Layout, PaperPlan, Placement, Plan
from sheetcut.units import TICKS_PER_MM, Cents, Length, in_mm, in_mm2

_ENCODER = msgspec.json.Encoder(decimal_format="number")


def plan_bytes(plan: Plan) -> bytes:
    """Return the plan document as UTF-8 JSON, readable by eye, ending in a line break."""
    return msgspec.json.format(_ENCODER.encode(_written(plan)), indent=1) + b"\n"


def job_bytes(job: Job) -> bytes:
    """Return what was asked as UTF-8 JSON, for telling one job from another."""
    rules, facts, sheets, orders = _asked(job)
    return _ENCODER.encode(JobRows(job.studio, rules, facts, sheets, orders))


def _money(cents: Cents | None) -> Decimal | None:
    return None if cents is None else Decimal(cents).scaleb(-2)


def _two(one: Length, other: Length) -> Two:
    return in_mm(one), in_mm(other)


def _four(edges: tuple[Length, Length, Length, Length]) -> Four:
    left, right, top, foot = (in_mm(edge) for edge in edges)
    return left, right, top, foot


def _maybe(length: Length | None) -> Decimal | None:
    return None if length is None else in_mm(length)


def _asked(
    job: Job,
) -> tuple[RulesRow, tuple[PaperRow, ...], tuple[SheetRow, ...], tuple[OrderRow, ...]]:
    rules = job.rules
    return (
        RulesRow(
            reading_step=_maybe(rules.reading_step),
            narrowest_strip=_maybe(rules.narrowest_strip),
            keep_size=_two(rules.keep_short, rules.keep_long),
            mat=None if rules.mat is None else _two(*rules.mat),
            ruler=_maybe(rules.ruler),
            printer_width=_maybe(rules.printer_width),
            aim=rules.aim,
            preference=rules.preference,
            narrow_strips=rules.narrow_strips,
        ),
        tuple(PaperRow(one.name, one.grammage, one.passes, one.aim) for one in job.papers),
        tuple(_sheet_row(sheet) for sheet in job.sheets),
        tuple(_order_row(piece) for piece in job.pieces),
    )


def _sheet_row(sheet: Sheet) -> SheetRow:
    return SheetRow(
        id=sheet.id,
        name=sheet.name,
        paper=sheet.paper,
        width=in_mm(sheet.width),
        height=in_mm(sheet.height),
        on_hand=sheet.on_hand,
        price=_money(sheet.price),
        edge_loss=_four(sheet.edge_loss),
        deckles=sheet.deckles,
        side=sheet.side,
        grain=sheet.grain,
        packs=tuple((pack.count, Decimal(pack.price).scaleb(-2)) for pack in sheet.packs),
        or_more=tuple(pack.count for pack in sheet.packs if pack.or_more),
        kind=sheet.kind,
        unit=sheet.unit,
        note=sheet.note,
        leave=sheet.leave,
        keep=sheet.keep,
        watermark=sheet.watermark,
        skew=None if sheet.skew is None else _skew_row(sheet.skew),
    )


def _skew_row(skew: Skew) -> SkewRow:
    measured = skew.measured
    return SkewRow(
        foot=in_mm(measured.foot),
        top=in_mm(measured.top),
        left=in_mm(measured.left),
        right=in_mm(measured.right),
        diagonal=in_mm(measured.diagonal),
        along=skew.along,
        loss=_four(skew.loss),
    )


def _order_row(piece: Piece) -> OrderRow:
    return OrderRow(
        order=piece.order,
        client=piece.client,
        piece=piece.label,
        paper=piece.paper,
        kind=piece.kind,
        width=in_mm(piece.width),
        height=in_mm(piece.height),
        margin=_four(piece.margin),
        border=_four(piece.border),
        count=piece.count,
        turn=piece.turn,
        deckles=piece.deckles,
        due=piece.due,
        price=_money(piece.price),
        unit=piece.unit,
        note=piece.note,
        if_room=piece.if_room,
    )


def _written(plan: Plan) -> PlanDocument:
    rules, facts, sheets, orders = _asked(plan.job)
    return PlanDocument(
        form=FORM,
        version=plan.version,
        code=plan.code,
        made=plan.made,
        input_hash=plan.input_hash,
        unit="mm",
        studio=plan.job.studio,
        currency=plan.job.currency,
        seed=plan.seed,
        rounds=plan.rounds,
        stopped=plan.stopped,
        rules=rules,
        paper_facts=facts,
        sheets=sheets,
        orders=orders,
        papers=tuple(_paper_row(plan.job, paper) for paper in plan.papers),
        short=tuple(
            ShortRow(
                plan.job.pieces[short.piece].order,
                plan.job.pieces[short.piece].label,
                short.count,
                short.why,
            )
            for short in plan.short
        ),
    )


def _paper_row(job: Job, paper: PaperPlan) -> PaperPlanRow:
    value = Decimal(paper.bound.value)
    return PaperPlanRow(
        paper=paper.paper,
        aim=paper.aim,
        sheets_used=paper.sheets_used,
        cost=_money(paper.cost),
        currency=job.currency,
        bound=BoundRow(
            measure=paper.bound.measure,
            value=value.scaleb(-2) if paper.bound.measure == "cost" else value,
            reason=paper.bound.reason,
            certificate=paper.bound.certificate,
        ),
        proved=paper.proved,
        alternatives=tuple(_alternative_row(job, one) for one in paper.alternatives),
        layouts=tuple(_layout_row(job, layout) for layout in paper.layouts),
        shares={
            job.pieces[piece].order: Decimal(share).scaleb(-2)
            for piece, share in paper.shares.items()
        },
        rounds=paper.rounds,
        stopped=paper.stopped,
        notes=paper.notes,
        kind=paper.kind,
        figures=_figures_row(job, paper.layouts),
    )


def _alternative_row(job: Job, one: Alternative) -> AlternativeRow:
    used = sheets_cut(one.layouts)
    return AlternativeRow(
        kind=one.kind,
        sheets_used={sheet.id: used[sheet.id] for sheet in job.sheets if used[sheet.id]},
        cost=_money(cash_for(job, one.layouts)),
        figures=_figures_row(job, one.layouts),
        layouts=tuple(_layout_row(job, layout) for layout in one.layouts),
    )


def _figures_row(job: Job, layouts: Iterable[Layout]) -> FiguresRow:
    figures = figures_of(job, layouts)
    keeper = figures.largest_keeper
    return FiguresRow(
        cuts=figures.cuts,
        settings=figures.settings,
        fresh_edges=figures.fresh_edges,
        effort=in_mm(figures.effort),
        largest_keeper=None if keeper is None else _two(*keeper),
        kept=in_mm2(figures.kept),
        scrap=in_mm2(figures.scrap),
    )


def _layout_row(job: Job, layout: Layout) -> LayoutRow:
    waste = layout.waste
    return LayoutRow(
        sheet=layout.sheet,
        copies=layout.copies,
        twins=layout.twins,
        start=layout.start,
        width=in_mm(layout.width),
        height=in_mm(layout.height),
        usable=_four(layout.usable),
        squaring=tuple(
            SquaringRow(one.number, one.edge, in_mm(one.reading)) for one in layout.squaring
        ),
        blanks=tuple(_blank_row(job, place) for place in layout.placements),
        cuts=tuple(_cut_row(cut) for cut in layout.cuts),
        keepers=tuple(
            KeeperRow(one.names, *_four((one.x, one.y, one.width, one.height)))
            for one in layout.keepers
        ),
        leftovers=tuple(_four(leftover) for leftover in layout.leftovers),
        waste=WasteRow(
            finished=in_mm2(waste.finished),
            margins=in_mm2(waste.margins),
            keepers=in_mm2(waste.keepers),
            scrap=in_mm2(waste.scrap),
            edges=in_mm2(waste.edges),
            extra=in_mm2(waste.extra),
        ),
        slack=_two(*slack(layout)),
        fresh_readings=fresh_readings(layout),
        marks=tuple(_mark_rows(job, layout)),
        flags=tuple(FlagRow(one.number, one.kind, one.words) for one in flags(job, layout)),
    )


def _mark_rows(job: Job, layout: Layout) -> Iterator[MarkRow]:
    sheet = next((sheet for sheet in job.sheets if sheet.id == layout.sheet), None)
    step = TICKS_PER_MM if sheet is None else reading_step(job, sheet.paper)
    for mark in marks(layout, step=step, ruler=job.rules.ruler):
        yield MarkRow(
            mark.number,
            mark.along,
            in_mm(mark.at),
            _two(*mark.ends),
            _maybe(mark.middle),
            mark.why_not,
        )


def _blank_row(job: Job, place: Placement) -> BlankRow:
    piece = job.pieces[place.piece]
    return BlankRow(
        order=piece.order,
        piece=piece.label,
        x=in_mm(place.x),
        y=in_mm(place.y),
        width=in_mm(place.width),
        height=in_mm(place.height),
        turned=place.turned,
        finished=_two(piece.width, piece.height),
        margin=_four(piece.margin),
        rounding=_two(*place.rounding),
        leave_on=_four(place.leave_on),
    )


def _cut_row(cut: Cut) -> CutRow:
    return CutRow(
        number=cut.number,
        along=cut.along,
        at=in_mm(cut.at),
        start=in_mm(cut.start),
        stop=in_mm(cut.stop),
        level=cut.level,
        setting=cut.setting,
        edge=cut.edge,
        reading=in_mm(cut.reading),
    )
