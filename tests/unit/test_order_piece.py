"""The piece in the order file: readings, repeats, faults, arrival; and what moves the kilt's levels."""

from __future__ import annotations

from fractions import Fraction

import pytest

from pleatwright.cloth import Edge
from pleatwright.errors import InputError, Problem
from pleatwright.findings import Finding, Severity
from pleatwright.order import Job, read_order
from pleatwright.wearer import LevelName

ORDER = """
[client]
name = "Wilfred Ashgrove"
[wearer]
kind = "man"
waist = "36"
hips = "41"
drop = "22"
fell_drop = "6 1/2"
rise = "2"
[tartan]
name = "Mallowbeck"
count = "B/24 W4 B24 R2 K24 G24 W/2"
sett = "6 1/2"
{settings}
[piece]
width = "29"
length = "300"
{piece}
"""
STILL = '[settings.cloth]\nsnap_tolerance = "0"'
ALONG = [3.25, 29.25, 55.3125, 81.5, 107.5625, 133.5625, 159.5]
"""Four setts apart, cloth a little larger than 6 1/2"."""


def read(piece: str, settings: str = STILL) -> Job:
    return read_order(ORDER.format(piece=piece, settings=settings))


def readings(at: list[float], *, repeats: bool = True, field: str = "readings", more: str = "") -> str:
    text = ""
    for number, one in enumerate(at):
        stripe = 'stripe = "W2"\n' if number == 0 else ""
        repeat = f"repeat = {1 + 4 * number}\n" if repeats else ""
        text += f'[[piece.{field}]]\n{stripe}{repeat}at = "{one}"\n{more if number == 3 else ""}'
    return text


def found(job: Job) -> dict[str, Finding]:
    return {one.code: one for one in job.cloth_findings}


def problems(piece: str) -> list[Problem]:
    with pytest.raises(InputError) as caught:
        read(piece)
    return list(caught.value.problems)


@pytest.mark.parametrize("repeats", [True, False])
def test_readings_make_the_map_whether_or_not_the_repeats_were_counted(repeats: bool) -> None:
    job = read(readings(ALONG, repeats=repeats))
    piece, tartan = job.request.piece, job.request.tartan
    assert piece is not None
    run = piece.run(tartan)
    pivot = tartan.weft.mirror_centres[1]
    assert [run.thread_at(at) % tartan.weft.n for at in ALONG] == pytest.approx([pivot] * 7)
    assert run.thread_at(ALONG[-1]) - run.thread_at(ALONG[0]) == pytest.approx(24 * 182)
    assert [check.repeat for check in job.taped[0].checks] == [1, 5, 9, 13, 17, 21, 25]


def test_the_stripe_at_the_left_end_is_one_more_reading() -> None:
    anchor = 'left_end = { stripe = "W2", distance = "3 1/4" }\n'
    job = read(anchor + readings(ALONG[1:], repeats=False))
    assert job.request.piece is not None
    assert [one.at for one in job.request.piece.readings] == ALONG
    wrong = read('left_end = { stripe = "W2", distance = "1 1/4" }\n' + readings(ALONG[1:], repeats=False))
    doubt = found(wrong)["cloth.reading-doubtful"]
    assert "the stripe named in piece.left_end" in doubt.seen
    assert wrong.request.piece is not None
    assert float(wrong.request.piece.left_end.distance) == ALONG[1]


def test_a_wrong_reading_is_reported_and_left_out_until_it_is_kept() -> None:
    wrong = [*ALONG[:3], 18.5, *ALONG[4:]]
    job = read(readings(wrong))
    doubt = found(job)["cloth.reading-doubtful"]
    assert (
        "reading 4 along the bottom selvedge, the centre of the narrow white in the green, repeat 13"
        in doubt.seen
    )
    assert 'at 18 1/2"' in doubt.seen
    assert 'put it at 81 7/16", give or take 1/8"' in doubt.expected
    assert "kept = true" in doubt.do
    assert job.request.piece is not None
    assert [one.at for one in job.request.piece.readings] == [*ALONG[:3], *ALONG[4:]]
    assert [check.doubtful for check in job.taped[0].checks] == [False] * 3 + [True] + [False] * 3
    near = [*ALONG[:3], 82.5, *ALONG[4:]]
    assert "cloth.reading-doubtful" in found(read(readings(near)))
    kept = read(readings(near, more="kept = true\n"))
    assert "cloth.reading-doubtful" not in found(kept)
    assert kept.request.piece is not None
    assert 82.5 in [one.at for one in kept.request.piece.readings]


def test_repeats_measured_one_by_one_are_added_up_and_a_wrong_size_is_not() -> None:
    sizes = ["6 1/2", "6 9/16", "6 1/2", "6 9/16", "7 1/2", "6 1/2", "6 9/16"]
    table = f'[piece.repeats]\nstripe = "W2"\nfirst = "3 1/4"\nsizes = {sizes}\n'
    job = read(table)
    assert job.request.piece is not None
    at = [one.at for one in job.request.piece.readings]
    assert at[:5] == [3.25, 9.75, 16.3125, 22.8125, 29.375]
    assert at[5] - at[4] == pytest.approx(6.53, abs=1 / 16)
    doubt = found(job)["cloth.reading-doubtful"]
    assert "size 5 of piece.repeats" in doubt.seen
    stands = read(table + "kept = [5]\n")
    assert "cloth.reading-doubtful" not in found(stands)


def test_the_other_selvedge_and_the_heights_across_are_read_too() -> None:
    across = (
        '[[piece.readings_across]]\nstripe = "W2"\nat = "2 1/4"\n[[piece.readings_across]]\nat = "15 3/8"\n'
    )
    job = read(readings(ALONG) + readings([at + 0.5 for at in ALONG], field="second_readings") + across)
    piece, tartan = job.request.piece, job.request.tartan
    assert piece is not None
    assert piece.second_run(tartan).thread_at(ALONG[0] + 0.5) % 182 == pytest.approx(103)
    assert [one.at for one in piece.readings_across] == [2.25, 15.375]
    assert piece.readings_across[1].thread - piece.readings_across[0].thread == 2 * 182
    assert piece.selvedge is not None
    assert piece.selvedge.distance == Fraction(9, 4)
    assert [taped.field for taped in job.taped] == [
        "piece.readings",
        "piece.second_readings",
        "piece.readings_across",
    ]
    assert not any("no stripe was measured from the bottom selvedge" in note for note in job.notes)


def test_faults_and_arrival_reach_the_piece() -> None:
    job = read(
        readings(ALONG)
        + '[[piece.faults]]\nkind = "knot"\nfrom = "60"\nto = "61"\nlow = "14"\nhigh = "15"\n'
        + '[[piece.faults]]\nkind = "stain"\nfrom = "90"\nto = "91"\nstrip = 2\nnote = "oil"\n'
        + '[piece.arrival]\ninvoiced = "8 1/2 yd"\nedge = "tucked"\nsound_from = "1"\nskew = "1/8"\n'
        + 'end_out = "1/8"\nshade = "pale"\nrelaxed = false\n'
    )
    piece = job.request.piece
    assert piece is not None
    assert [(f.kind, f.start, f.low, f.strip) for f in piece.faults] == [
        ("knot", Fraction(60), Fraction(14), 1),
        ("stain", Fraction(90), None, 2),
    ]
    assert piece.arrival is not None
    assert piece.arrival.invoiced == 306
    assert (piece.arrival.edge, piece.arrival.relaxed) == (Edge.TUCKED, False)
    assert {"cloth.short", "cloth.edge", "cloth.shade", "cloth.not-relaxed", "cloth.fault"} <= set(found(job))


def test_a_sett_of_the_piece_ten_times_that_of_its_tartan_is_asked_about() -> None:
    left_end = 'left_end = { stripe = "W2", distance = "3 1/4" }\n'
    usual, wrong = (
        found(read(f'{left_end}sett = {{ measured = "65 1/4", over = {over} }}')) for over in (10, 1)
    )
    assert "cloth.setts-apart" not in usual
    one = wrong["cloth.setts-apart"]
    assert one.severity is Severity.ASK
    assert "over = 10" in one.do


def test_readings_too_few_or_too_far_apart_or_at_odds_with_the_sett_are_said() -> None:
    two = '[[piece.readings]]\nstripe = "W2"\nrepeat = 1\nat = "3 1/4"\n'
    two += '[[piece.readings]]\nrepeat = 5\nat = "{}"\n'
    assert "cloth.readings-few" in found(read(two.format("31")))
    few = found(read(two.format("29 3/8")))
    assert "cloth.readings-few" not in few
    assert "cloth.readings-far-apart" in few
    assert "cloth.readings-far-apart" not in found(
        read(readings([*ALONG, 185.5, 211.5, 237.5, 263.5, 289.5]))
    )
    assert "cloth.sett-size-off" in found(read(readings([at * 1.05 for at in ALONG])))


@pytest.mark.parametrize(
    "piece, field, says",
    [
        ('[[piece.readings]]\nstripe = "W2"\n', "piece.readings, entry 1", "write what the tape said"),
        ('[[piece.readings]]\nat = "3"\n', "piece.readings, entry 1", 'stripe = "W2"'),
        ('[[piece.readings]]\nstripe = "K24"\nat = "3"\n', "piece.readings, entry 1", "then"),
        ('[[piece.readings]]\nstripe = "W2"\nat = "x"\n', "piece.readings.at, entry 1", "write 40"),
        (
            '[[piece.readings]]\nstripe = "W2"\nat = "3"\nrepeats = 2\n',
            "piece.readings.repeats, entry 1",
            "repeat?",
        ),
        ('[[piece.readings]]\nstripe = "W2"\nat = "310"\n', "piece.readings, entry 1", "measure the piece"),
        (
            '[[piece.readings]]\nstripe = "W2"\nrepeat = 5\nat = "3"\n'
            '[[piece.readings]]\nrepeat = 1\nat = "29"\n',
            "piece.readings",
            "measure them again",
        ),
        ('[piece.repeats]\nstripe = "W2"\n', "piece.repeats.first", "first centre"),
        (
            readings(ALONG) + '[piece.repeats]\nstripe = "W2"\nfirst = "3"\nsizes = ["6"]\n',
            "piece.repeats",
            "keep one",
        ),
        ('[[piece.faults]]\nkind = "knot"\nfrom = "4"\n', "piece.faults, entry 1", "from ="),
        ('[[piece.faults]]\nfrom = "4"\nto = "5"\n', "piece.faults, entry 1", "kind ="),
        (
            '[[piece.faults]]\nkind = "knot"\nfrom = "5"\nto = "4"\n',
            "piece.faults, entry 1, from and to",
            "smaller",
        ),
        (
            '[[piece.faults]]\nkind = "knot"\nfrom = "5"\nto = "400"\n',
            "piece.faults, entry 1, from and to",
            "measure",
        ),
        (
            '[[piece.faults]]\nkind = "knot"\nfrom = "5"\nto = "6"\nlow = "31"\n',
            "piece.faults, entry 1, low and high",
            "smaller",
        ),
        (
            '[[piece.faults]]\nkind = "knot"\nfrom = "5"\nto = "6"\nstrip = 3\n',
            "piece.faults.strip, entry 1",
            "write 1",
        ),
        ('[piece.arrival]\nedge = "frayed"\n', "piece.arrival.edge", '"tucked"'),
        ('[piece.arrival]\ninvoice = "3"\n', "piece.arrival.invoice", "invoiced"),
    ],
)
def test_a_mistake_in_the_piece_is_named_with_its_entry_and_its_fix(
    piece: str, field: str, says: str
) -> None:
    named = {problem.field: problem for problem in problems(piece)}
    assert f"order.toml: {field}" in named
    assert says in named[f"order.toml: {field}"].fix


def test_a_mistake_in_one_reading_does_not_ask_for_the_left_end_as_well() -> None:
    assert [one.field for one in problems('[[piece.readings]]\nstripe = "W2"\nat = "x"\n')] == [
        "order.toml: piece.readings.at, entry 1"
    ]


def test_plain_cloth_has_no_stripes_to_read() -> None:
    text = ORDER.replace("B/24 W4 B24 R2 K24 G24 W/2", "B24").format(piece=readings(ALONG), settings="")
    with pytest.raises(InputError) as caught:
        read_order(text)
    assert any("plain cloth has no stripes" in str(problem) for problem in caught.value.problems)


SELVEDGE = 'left_end = { stripe = "W2", distance = "3" }\nselvedge = { stripe = "W2", distance = "1 1/2" }\n'


def test_levels_move_to_a_woven_line_and_everything_follows() -> None:
    still, moved = read(SELVEDGE).sizes, read(SELVEDGE, "")
    sizes = moved.sizes
    # The white pivot at 1 1/2" and every 6 1/2" on; a quarter sett, 24 of 182 threads, is 6/7".
    assert {"cloth.top-edge-moved", "cloth.hip-line-moved"} <= set(found(moved))
    assert sizes is moved.request.sizes
    assert sizes.total != still.total
    assert sizes.fell != still.fell
    assert sizes.drop == still.drop
    assert sizes.total == sizes.drop + sizes.rise
    hip, mid, strap = (sizes.level(name) for name in (LevelName.HIP, LevelName.MID, LevelName.STRAP))
    assert hip.below_top == sizes.fell
    assert strap.below_top == sizes.rise
    assert mid.below_top == (hip.below_top + strap.below_top) / 2
    assert hip.round == still.level(LevelName.HIP).round
    assert sizes.total - strap.below_top == still.total - still.rise  # the strap line stays on the cloth
    tape = (sizes.total - sizes.fell, sizes.total)
    run = [1.5 + 6.5 * turn + edge * 6.5 / 182 for turn in range(-1, 5) for edge in _edges_from_the_pivot()]
    for height in tape:
        assert min(abs(float(height) - line) for line in run) <= 1 / 32


def _edges_from_the_pivot() -> list[int]:
    """Threads from the white pivot's centre to every colour boundary of one sett [derived]."""
    half = [1, 25, 49, 51, 75, 79]  # W/2: 1, G24, K24, R2, B24, W4; then the blue pivot of 24
    return [*half, *(182 - edge for edge in half)]


def test_a_hem_is_counted_in_the_heights() -> None:
    text = ORDER.replace("[tartan]", '[kilt]\nhem = "3"\n[tartan]').format(piece=SELVEDGE, settings="")
    sizes = read_order(text).sizes
    assert sizes.hem == 3
    assert sizes.total == sizes.drop + sizes.rise + 3
    run = [1.5 + 6.5 * turn + edge * 6.5 / 182 for turn in range(-1, 5) for edge in _edges_from_the_pivot()]
    assert min(abs(float(sizes.total - sizes.fell) - line) for line in run) <= 1 / 32


def test_without_a_tolerance_or_a_selvedge_stripe_the_levels_stay() -> None:
    for job in (read(SELVEDGE), read('left_end = { stripe = "W2", distance = "3" }\n', "")):
        assert (job.sizes.total, job.sizes.fell) == (Fraction(24), Fraction(17, 2))
        assert not {"cloth.top-edge-moved", "cloth.hip-line-moved"} & set(found(job))


def test_the_strip_left_above_the_rip_is_said() -> None:
    left = found(read(SELVEDGE))["cloth.left-strip"]
    assert left.seen == 'a strip 5" high is left above the rip'
    assert 'top band (3" × 57")' in left.expected
