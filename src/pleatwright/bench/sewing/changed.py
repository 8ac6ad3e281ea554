"""What another plan would have told: the log keeps its own figures, and says which differ."""

from __future__ import annotations

from pleatwright.bench.sewing.gives import Hand
from pleatwright.bench.sewing.log import SewingLog
from pleatwright.bench.sewing.maker import targets_of
from pleatwright.findings import Finding, Severity
from pleatwright.layout import Option, Request


def changed_findings(
    log: SewingLog, options: tuple[Option, ...], request: Request, hand: Hand
) -> tuple[Finding, ...]:
    """The figures of the sewing that a plan made since would change; `options`: that plan's.

    The plan's option of the same title is meant.  Nothing where it would change none.
    """
    started = log.started
    kept = "The log keeps the figures sewing began with; for others begin a new one with --log."
    option = next((one for one in options if one.title == started.title), None)
    if option is None:
        seen = f'the order has changed since sewing began: its plan has no kilt "{started.title}" any more'
        return (Finding("sewing.plan-changed", Severity.WARN, seen, f"plan {started.plan}", kept),)
    differ = [
        f"{name} {new} instead of {old}"
        for name, old, new in (
            ("it opens on the", started.opens_on, option.opens_on),
            ("pleats", len(started.told.hip), option.pleats),
        )
        if old != new
    ]
    for target in targets_of(option, request):
        old = started.told.at(target.level)
        new_total, old_total = hand.long(float(target.total)), hand.long(float(sum(old)))
        if new_total != old_total:
            differ.append(f"{target.level} {new_total} instead of {old_total}")
        elif target.sizes != old:
            differ.append(f"the same {target.level} in other sizes")
    if not differ:
        return ()
    seen = f"the order has changed since sewing began: {', '.join(differ)}"
    return (Finding("sewing.plan-changed", Severity.WARN, seen, f"plan {started.plan}", kept),)
