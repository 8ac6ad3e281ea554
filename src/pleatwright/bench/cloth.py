"""What the cloth has to say about the chosen kilt: the drift it would have cost, a band it cannot give."""

from __future__ import annotations

from fractions import Fraction

from pleatwright.bench.marks import marks
from pleatwright.cloth import Run
from pleatwright.findings import Finding, Severity
from pleatwright.layout import Option, Plan, Request
from pleatwright.lengths import write_length
from pleatwright.order import Job

SMALL_DRIFT = 1 / 16
"""Inches below which a drift is not worth a word: the working grid."""


def cloth_findings(job: Job, plan: Plan) -> tuple[Finding, ...]:
    """Everything found about the piece, and about the chosen kilt on it."""
    option = plan.chosen
    if option is None:
        return job.cloth_findings
    return (
        *job.cloth_findings,
        *_drift_avoided(job, option),
        *_band(option, job.request),
    )


def nominal_error(option: Option, run: Run, sett_size: float) -> float:
    """The largest error in inches that marks reckoned from the nominal sett would have had on this piece.

    Pleat and apron centres, reckoned with one size of sett from the left end, or from the seam on the second
    strip; held against the readings' own map.
    """
    thread_size = sett_size / run.sett.n
    threads = [strip.thread for strip in option.strips]
    threads += [option.over_apron.thread, option.under_apron.thread]
    starts = [run.thread_at(0.0)]
    if option.cloth is not None and option.cloth.join is not None:
        starts.append(option.cloth.join.thread)

    def nominal(thread: float) -> float:
        start = max((one for one in starts if one <= thread), default=starts[0])
        return run.tape_at(start) + (thread - start) * thread_size

    return max(abs(run.tape_at(thread) - nominal(thread)) for thread in threads)


def drift_avoided(job: Job, option: Option) -> float | None:
    """`nominal_error` on the strip the option lies on; None where the piece was not read along."""
    request = job.request
    if request.piece is None or not request.piece.readings or option.cloth is None:
        return None
    run = option.cloth.run(request.tartan.weft)
    return nominal_error(option, run, float(request.sett_along))


def _drift_avoided(job: Job, option: Option) -> tuple[Finding, ...]:
    error = drift_avoided(job, option)
    if error is None or error < SMALL_DRIFT:
        return ()
    units = job.units
    return (
        Finding(
            "cloth.drift-avoided",
            Severity.NOTE,
            f"with one sett of {write_length(job.request.sett_along, units)} throughout, a mark would have "
            f"been up to {write_length(error, units)} off its stripe",
            "marks that follow the readings of this piece",
            "Chalk every mark against the stripe it names, not by the tape alone.",
        ),
    )


def _band(option: Option, request: Request) -> tuple[Finding, ...]:
    """Whether the band can be cut beside the over-apron: long enough there, and without a fault.

    Only where the over-apron lies on the strip along the bottom selvedge as it was read.
    """
    piece, cloth = request.piece, option.cloth
    if piece is None or cloth is None or cloth.turned_end_for_end:
        return ()
    if cloth.join is not None and option.over_apron.centre > cloth.join.tape:
        return ()
    ends = [mark.tape for mark in marks(option, request) if mark.group == "top band"]
    if not ends:
        return ()
    units, start, end = request.units, min(ends), max(ends)
    found = []
    if start < 0 or end > piece.length:
        found.append(
            Finding(
                "cloth.band-runs-off",
                Severity.WARN,
                f"beside the over-apron the top band would run from {write_length(start, units)} to "
                f"{write_length(end, units)}",
                f"the piece ends at {write_length(piece.length, units)}",
                "Shorten what is spare at the band's ends, or join it where the under-apron hides it; its "
                "mark stays at the over-apron's centre.",
            )
        )
    low = request.sizes.total + Fraction(0 if cloth.join is None else cloth.join.hem_first)
    high = low + request.settings.cloth.band_height
    hem = 0 if cloth.join is None else Fraction(cloth.join.hem_second)
    room = piece.width - (0 if cloth.join is None else request.sizes.total + hem)
    for fault in piece.faults:
        above = fault.strip == 1 and (fault.low or Fraction(0)) < high
        above = above and (fault.high is None or fault.high > low)
        if above and fault.start < end and fault.end > start:
            found.append(
                Finding(
                    "cloth.band-fault",
                    Severity.WARN,
                    f"the {fault.kind} at {write_length(fault.start, units)} lies in the top band",
                    f"a band of sound cloth from {write_length(start, units)} to {write_length(end, units)} "
                    "along",
                    f"Cut it from {write_length(fault.high, units)} above the selvedge up, beside the fault."
                    if fault.high is not None and fault.high + high - low <= room
                    else "Cut it where the same stripe comes again along the strip that is left, or join it "
                    "where the under-apron hides it.",
                )
            )
    return tuple(found)
