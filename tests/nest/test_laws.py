"""What must hold for every job, on random jobs."""

from dataclasses import replace

from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from sheetcut.job import Job, Piece, Rules, Sheet
from sheetcut.nest import lay_out
from sheetcut.units import Edges
from tests.nest.jobs import assert_sound, value_of

FEW = settings(
    max_examples=40,
    deadline=None,
    derandomize=True,
    phases=[Phase.explicit, Phase.generate],  # shrinking such jobs takes minutes
    suppress_health_check=[HealthCheck.too_slow],
)

TURNS = st.sampled_from(["yes", "no", "grain up", "grain across", "alike"])
GRAINS = st.sampled_from(["along width", "along height", "none", "not known"])


@st.composite
def jobs(draw, turns=TURNS, limited=True):
    priced = draw(st.booleans())
    on_hand = st.sampled_from([None, 0, 2, 5]) if limited else st.none()
    sheets = []
    for i in range(draw(st.integers(1, 3))):
        offcut = limited and i > 0 and draw(st.booleans())
        loss = draw(st.integers(0, 2))
        sheets.append(
            Sheet(
                id=f"S{i}",
                paper="rag",
                width=draw(st.integers(12, 40)),
                height=draw(st.integers(12, 40)),
                edge_loss=Edges(loss, 0, loss, 1),
                grain=draw(GRAINS),
                on_hand=1 if offcut else draw(on_hand),
                price=draw(st.integers(1, 300)) if priced else None,
                kind="offcut" if offcut else "full",
            )
        )
    pieces = [
        Piece(
            order=f"P{i}",
            label="",
            paper="rag",
            width=draw(st.integers(1, 30)),
            height=draw(st.integers(1, 30)),
            margin=Edges(1, 0, 0, 2),
            count=draw(st.integers(1, 4)),
            turn=draw(turns),
        )
        for i in range(draw(st.integers(1, 6)))
    ]
    step = draw(st.sampled_from([1, 2, 3]))
    return Job(tuple(sheets), tuple(pieces), Rules(reading_step=step, keep_short=1, keep_long=1))


@FEW
@given(jobs())
def test_every_answer_is_sound(job):
    assert_sound(job, lay_out(job, "rag", rounds=150))


@FEW
@given(jobs(), st.integers(0, 3))
def test_the_same_job_seed_and_rounds_give_the_same_answer(job, seed):
    first = lay_out(job, "rag", seed=seed, rounds=150)
    again = lay_out(job, "rag", seed=seed, rounds=first.rounds)
    assert again == first


@FEW
@given(jobs(turns=st.sampled_from(["yes", "no"]), limited=False))
def test_a_job_and_its_mirror_image_agree_within_what_is_proved(job):
    """Sheets and pieces turned together are the same problem."""
    mirrored = replace(
        job,
        sheets=tuple(_turned_sheet(sheet) for sheet in job.sheets),
        pieces=tuple(_turned_piece(piece) for piece in job.pieces),
    )
    _assert_agree(job, mirrored)


@FEW
@given(jobs(turns=st.sampled_from(["yes", "no"]), limited=False))
def test_a_job_in_another_order_agrees_within_what_is_proved(job):
    _assert_agree(job, replace(job, pieces=job.pieces[::-1]))


def _assert_agree(job, other):
    one, two = lay_out(job, "rag", rounds=150), lay_out(other, "rag", rounds=150)
    assert sum(short.count for short in one.short) == sum(short.count for short in two.short)
    assert one.bound.value <= value_of(other, two)
    assert two.bound.value <= value_of(job, one)


def _turned_sheet(sheet):
    turned = {"along width": "along height", "along height": "along width"}
    return replace(
        sheet,
        width=sheet.height,
        height=sheet.width,
        edge_loss=sheet.edge_loss.turned(),
        grain=turned.get(sheet.grain, sheet.grain),
    )


def _turned_piece(piece):
    return replace(piece, width=piece.height, height=piece.width, margin=piece.margin.turned())
