"""The piece as measured: how it arrived, every reading held against the others, how its sett wanders."""

from __future__ import annotations

from pleatwright.bench import drift_avoided
from pleatwright.bench.readings import reading_told, sett_size_told
from pleatwright.cloth import Check, Drift, Piece, Taped, drift
from pleatwright.cloth.readings import DOUBTFUL
from pleatwright.layout import Plan
from pleatwright.lengths import write_length
from pleatwright.order import Job
from pleatwright.sheets.drawing import Item, Line, Polyline, Rect, Text
from pleatwright.sheets.flow import Block, Column, Sheet, heading, paragraph, sheets_of, table, white
from pleatwright.sheets.look import ACCENT, BODY, GREY, HAIR, PALE, SMALL, Frame

PLOT_TALL = 1.7
LEFT, BELOW = 0.85, 0.3
ROOM = 0.0025
"""Share of the sett above and below the plotted sizes."""
DOT = 0.035


def cloth_piece_sheets(job: Job, plan: Plan, frame: Frame) -> tuple[Sheet, ...]:
    """The piece on one page or more; none where it was neither read nor looked over."""
    piece = job.request.piece
    if piece is None or not (job.taped or piece.faults or piece.arrival):
        return ()
    blocks = [
        *_arrival(piece, job, frame.width),
        *_faults(piece, job, frame.width),
        *_drift(piece, job, plan, frame.width),
        *(block for edge in job.taped for block in _readings(edge, job, frame.width)),
    ]
    return sheets_of("The piece as measured", blocks, frame)


def _write(job: Job, value: float) -> str:
    return write_length(value, job.units, job.grid)


def _arrival(piece: Piece, job: Job, width: float) -> tuple[Block, ...]:
    arrival = piece.arrival
    facts = [("width", _write(job, float(piece.width))), ("length", _write(job, float(piece.length)))]
    if arrival is not None:
        lengths = (
            ("invoiced", arrival.invoiced),
            ("end out of square", arrival.end_out),
            ("weft leans over the width", arrival.skew),
            ("first sound thread", arrival.sound_from),
        )
        facts += [(name, _write(job, float(value))) for name, value in lengths if value is not None]
        facts += [("left end", str(arrival.edge))] if arrival.edge is not None else []
        facts += [("shade", arrival.shade or "right")]
        if arrival.relaxed is not None:
            facts += [("lain or steamed", "yes" if arrival.relaxed else "no, read it again afterwards")]
    name = width / 2 * 0.55
    columns = (Column("", name), Column("", width / 2 - name, bold=True)) * 2
    pairs = [*facts, ("", "")] if len(facts) % 2 else facts
    half = len(pairs) // 2
    rows = [(*one, *other) for one, other in zip(pairs[:half], pairs[half:], strict=True)]
    return (heading("On arrival"), *table(columns, rows, headed=False), white(0.16))


def _faults(piece: Piece, job: Job, width: float) -> tuple[Block, ...]:
    if not piece.faults:
        return ()
    each = 0.95
    columns = (
        Column("fault", 1.3, bold=True),
        *(Column(text, each, "end", figures=True) for text in ("from", "to", "low", "high")),
        Column("selvedge", 0.9),
        Column("note", width - 2.2 - 4 * each),
    )
    rows = [
        (
            fault.kind,
            _write(job, float(fault.start)),
            _write(job, float(fault.end)),
            "–" if fault.low is None else _write(job, float(fault.low)),
            "–" if fault.high is None else _write(job, float(fault.high)),
            "bottom" if fault.strip == 1 else "other",
            fault.note,
        )
        for fault in piece.faults
    ]
    return (heading("Faults, to be kept out of sight"), *table(columns, rows), white(0.16))


def _drift(piece: Piece, job: Job, plan: Plan, width: float) -> tuple[Block, ...]:
    found = drift(piece.readings, job.request.tartan.weft)
    if found is None:
        return ()
    sett = float(job.request.sett_along)
    least, most, mean, stated = (
        sett_size_told(size, job) for size in (found.least, found.greatest, found.mean, sett)
    )
    spread = (
        f"One sett measures {least} to {most} along this piece, {mean} on the whole; "
        f"the stated size is {stated}."
    )
    error = None if plan.chosen is None else drift_avoided(job, plan.chosen)
    if error is not None:
        spread += (
            f" With the stated size throughout, a mark of the chosen kilt would lie up to "
            f"{_write(job, error)} off its stripe."
        )
    return (
        heading("How the sett wanders"),
        paragraph(spread, width, gap=0.1, keep=True),
        _plot(found, sett, float(piece.length), job, width),
        white(0.16),
    )


def _plot(found: Drift, sett: float, length: float, job: Job, width: float) -> Block:
    """Local size of the sett against the tape position."""
    low = min(found.least, sett) - ROOM * sett
    high = max(found.greatest, sett) + ROOM * sett
    wide = width - LEFT - 0.1

    def x_of(at: float) -> float:
        return LEFT + wide * at / length

    def y_of(size: float) -> float:
        return PLOT_TALL * (high - size) / (high - low)

    items: list[Item] = [Rect(LEFT, 0.0, wide, PLOT_TALL, fill=PALE)]
    step = 20 if job.units == "in" else 50 / 2.54
    for i in range(int(length / step) + 1):
        x = x_of(i * step)
        items.append(Line(x, 0.0, x, PLOT_TALL, HAIR, 0.4))
        mark = f"{i * 20}" if job.units == "in" else f"{i * 50}"
        items.append(Text(x, PLOT_TALL + 0.16, mark, SMALL, "middle", fill=GREY))
    unit = "inches from the left end" if job.units == "in" else "centimetres from the left end"
    items.append(Text(LEFT + wide, PLOT_TALL + 0.32, unit, SMALL, "end", fill=GREY))
    items.append(Line(LEFT, y_of(sett), LEFT + wide, y_of(sett), GREY, 0.9, (4.0, 3.0)))
    last = -1.0
    sizes = (found.greatest, found.least, sett)  # of two that read alike the stated one counts
    named = {sett_size_told(size, job): size for size in sizes}
    for words, size in sorted(named.items(), key=lambda one: -one[1]):
        y = max(y_of(size) + 0.04, last + 0.16)
        last = y
        items.append(Text(LEFT - 0.08, y, words, SMALL, "end", bold=size == sett))
    points = tuple((x_of(one.at), y_of(one.size)) for one in found.sizes)
    if len(points) > 1:
        items.append(Polyline(points, ACCENT, 1.2))
    items += [Rect(x - DOT, y - DOT, 2 * DOT, 2 * DOT, fill=ACCENT) for x, y in points]
    return Block(PLOT_TALL + BELOW + 0.1, tuple(items))


def _readings(edge: Taped, job: Job, width: float) -> tuple[Block, ...]:
    rows = [_row(check, edge, job) for check in edge.checks]
    stripes = {check.reading.stripe for check in edge.checks}
    figure, one = 0.88, len(stripes) == 1
    rest = width - 1.0 - 3 * figure
    columns = (
        Column("", 0.4, "end"),
        *(() if one else (Column("stripe, its centre", rest / 2),)),
        Column("repeat", 0.6, "end"),
        Column("read", figure, "end", figures=True, bold=True),
        Column("foretold", figure, "end", figures=True),
        Column("apart", figure, "end", figures=True),
        Column("", rest if one else rest / 2),
    )
    if one:
        rows = [(row[0], *row[2:]) for row in rows]
    doubtful = frozenset(number for number, check in enumerate(edge.checks) if check.doubtful)
    told = (f"All are of the centre of {stripes.pop()}. " if one else "") + (
        "Each reading is foretold from all the others; those that are doubtful are left out of the map until "
        "they have been measured again."
    )
    return (
        heading(f"Readings {edge.where}"),
        paragraph(told, width, SMALL, fill=GREY, gap=0.08, keep=True),
        *table(columns, rows, size=BODY - 1, pad=0.03, strong=doubtful),
        white(0.16),
    )


def _row(check: Check, edge: Taped, job: Job) -> tuple[str, ...]:
    number = str(check.number) if check.number <= edge.entries else "–"
    note = "measure again" if check.doubtful else ""
    if check.slip:
        note += f": {check.slip}"
    if check.likely is not None and check.spread is not None:
        off = check.reading.at - check.likely
        if check.reading.kept and abs(off) > DOUBTFUL * check.spread:
            note = "stands: measured again"
    return (number, check.reading.stripe, str(check.repeat), *reading_told(check, job), note)
