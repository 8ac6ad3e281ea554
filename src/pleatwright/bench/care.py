"""The care card: what a client is told when the kilt goes home [from memory, where nothing else is said]."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from pleatwright.bench.cautions import CAUTIONS
from pleatwright.bench.closing import Closing, Hole
from pleatwright.lengths import write_length
from pleatwright.order import Job


@dataclass(frozen=True)
class Advice:
    """A few kind words under one heading."""

    title: str
    lines: tuple[str, ...]


@dataclass(frozen=True)
class CareCard:
    """The card of one kilt; `fits`: the waist each hole fits, in inches, the smallest first."""

    shop: str
    client: str
    reference: str
    tartan: str
    fits: tuple[Hole, ...]
    advice: tuple[Advice, ...]


def care_card(job: Job, closing: Closing) -> CareCard:
    """The card for one kilt, with its own straps and waists."""
    under = closing.straps[0]
    over = closing.straps[1]
    through = "through its hole" if under.through_hole else "inside"
    flames = next(caution.text for caution in CAUTIONS if caution.where == "For the wearer")
    return CareCard(
        shop=job.shop,
        client=job.client,
        reference=job.reference,
        tartan=job.request.tartan.name,
        fits=closing.fits,
        advice=(
            Advice(
                "Putting it on",
                (
                    f"First the strap at your {under.hip} hip, {through}; then that at your {over.hip} hip.",
                    f"It was fitted at hole {under.chosen.number}; the others are for other days.",
                ),
            ),
            Advice(
                "After wearing",
                (
                    "Hang it by the aprons, pleats straight, and let it air overnight.",
                    "Brush it downwards, softly, with the pleats.",
                    "When wet, let it dry slowly, away from stove and sun.",
                ),
            ),
            Advice(
                "Creases and spots",
                (
                    "Steam takes most of them out. Else press under a damp cloth: down, never sliding.",
                    "Do not wash it unless the weaver says so; seldom have it dry-cleaned.",
                ),
            ),
            Advice(
                "Putting it away",
                ("Moths love wool that was worn: brush it, air it, and close the bag well.",),
            ),
            Advice("Above all", (flames,)),
            Advice("Come back", _come_back(job, closing)),
        ),
    )


def _come_back(job: Job, closing: Closing) -> tuple[str, ...]:
    """When to come back, and what can still be done."""
    aprons = max((way.waist_out for way in closing.later), default=Fraction(0))
    lines = ["When the last hole grows tight, a stitch gives way or a pleat lifts: early is little work."]
    if aprons > 0:
        most = write_length(min(aprons, job.request.settings.closing.let_out_most), job.units, job.grid)
        lines.append(f"There is cloth in it to let it out by about {most}.")
    return tuple(lines)
