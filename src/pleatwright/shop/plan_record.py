"""plan.json: everything a plan holds, in one versioned record; and its JSON Schema."""

from __future__ import annotations

import json
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

import pleatwright
from pleatwright.bench import GaugeList, cloth_findings, gauge_list
from pleatwright.bench.closing import Closing, closing
from pleatwright.bench.guide import Step, guide
from pleatwright.bench.risk import Risk, risk
from pleatwright.findings import Finding
from pleatwright.layout import ClothToOrder, Option, Plan, Sensitivity, sensitivities
from pleatwright.order import Job
from pleatwright.shop.record import as_json, schema_of
from pleatwright.wearer import Sizes

FORMAT_VERSION = 1
SCHEMA_ID = f"urn:pleatwright:plan:{FORMAT_VERSION}"


@dataclass(frozen=True)
class TartanRecord:
    """The tartan as read: the written count, the convention at its pivots, one period's size in inches."""

    name: str
    written: str
    pivots: str
    threads_along: int
    threads_across: int
    mirror_centres: tuple[float, ...]
    sett_along: Fraction
    sett_across: Fraction


@dataclass(frozen=True)
class PieceRecord:
    """The piece of cloth: inches; phases in threads at its left end and at its bottom selvedge."""

    width: Fraction
    length: Fraction
    left_end_phase: float
    selvedge_phase: float


@dataclass(frozen=True)
class BenchRecord:
    """What the first option asks of the bench: gauges, the risk of sewing, closing, every step."""

    gauges: GaugeList
    risk: Risk
    closing: Closing
    steps: tuple[Step, ...]

    @classmethod
    def of(cls, job: Job, option: Option) -> BenchRecord:
        """The record for one option."""
        return cls(
            gauge_list(option, job.request, job.drawer),
            risk(option, job.request),
            closing(job, option),
            guide(job, option),
        )


@dataclass(frozen=True)
class PlanRecord:
    """A plan. Lengths are inches; tape positions run from the left cut end of the cloth as it lies.

    `plan_version` changes whenever the order, the shop's settings or the program change.  The best
    option stands first; `searched` counts every candidate, `fitting` those the piece is long enough for.
    `bears`: what each option bears when cloth, body or sewing are a little off.
    """

    format: str
    format_version: int
    made_by: str
    plan_version: str
    shop: str
    client: str
    reference: str
    units: str
    opens_on: str
    sizes: Sizes
    tartan: TartanRecord
    piece: PieceRecord | None
    questions: tuple[Finding, ...]
    cloth: tuple[Finding, ...]
    findings: tuple[Finding, ...]
    searched: int
    fitting: int
    cloth_to_order: ClothToOrder | None
    options: tuple[Option, ...]
    bears: tuple[Sensitivity, ...]
    bench: BenchRecord | None


def plan_record(job: Job, plan: Plan) -> PlanRecord:
    """The record of one plan."""
    request = job.request
    tartan, piece = request.tartan, request.piece
    return PlanRecord(
        format="pleatwright plan",
        format_version=FORMAT_VERSION,
        made_by=f"pleatwright {pleatwright.__version__}",
        plan_version=job.version,
        shop=job.shop,
        client=job.client,
        reference=job.reference,
        units=request.units,
        opens_on=request.opens_on,
        sizes=request.sizes,
        tartan=TartanRecord(
            tartan.name,
            tartan.written,
            tartan.pivots,
            tartan.weft.n,
            tartan.warp.n,
            tartan.weft.mirror_centres,
            request.sett_along,
            request.sett_across,
        ),
        piece=None
        if piece is None
        else PieceRecord(
            piece.width,
            piece.length,
            piece.run(tartan).thread_at(0.0) % tartan.weft.n,
            piece.selvedge_phase(tartan),
        ),
        questions=job.questions,
        cloth=cloth_findings(job, plan),
        findings=plan.findings,
        searched=plan.searched,
        fitting=plan.fitting,
        cloth_to_order=plan.to_order,
        options=plan.options,
        bears=sensitivities(request, plan),
        bench=None if plan.chosen is None else BenchRecord.of(job, plan.chosen),
    )


def plan_json(job: Job, plan: Plan) -> str:
    """plan.json's text; the same order gives the same bytes."""
    return json.dumps(as_json(plan_record(job, plan)), indent=1, ensure_ascii=False) + "\n"


def plan_schema() -> dict[str, Any]:
    """The JSON Schema of plan.json."""
    described: dict[str, Any] = {}
    top = schema_of(PlanRecord, described)
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": SCHEMA_ID,
        "title": "pleatwright plan",
        **top,
        "$defs": dict(sorted(described.items())),
    }
