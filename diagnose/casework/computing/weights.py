"""Pump, drain, yields and shrink from the weighings of the lot."""

from __future__ import annotations

from collections.abc import Iterator

from diagnose.casework.batch_record import BatchRecord
from diagnose.process import yields

from .values import Value

GREEN = "per cent of green weight"


def weight_values(record: BatchRecord) -> Iterator[Value]:
    """Whatever the weighings allow."""
    green, injected = record.get("green-weight"), record.get("injected-weight")
    drained, cooked, finished = (record.get(f"{name}-weight") for name in ("drained", "cooked", "finished"))
    if (pump := pump_of(record)) is not None:
        yield Value("pump", "Per cent pump", pump, GREEN, "green and injected weight")
        if (target := record.get("target-pump")) is not None:
            off = pump - target
            yield Value("pump-off-target", "Pump against the target", off, "points", f"pump less {target:g} %")
    if green is not None and injected is not None and drained is not None:
        left = yields.retained_after_drain(green, injected, min(drained, injected))
        yield Value(
            "retained-pump", "Pump left after draining", left.retained_percent, GREEN, "green and drained weight"
        )
        if left.pump_percent > 0:
            how = "injected and drained weight"
            yield Value("brine-lost", "Brine lost in draining", left.brine_lost_percent, "per cent", how)
    before = drained or injected or record.get("cured-weight") or green
    if before is not None and cooked is not None:
        shrink = yields.shrink_percent(before, cooked)
        yield Value("cook-shrink", "Shrink in the house", shrink, "per cent", f"{before:g} kg in, {cooked:g} kg out")
    if cooked is not None and finished is not None:
        yield Value(
            "chill-shrink",
            "Shrink in the chill",
            yields.shrink_percent(cooked, finished),
            "per cent",
            "cooked and finished weight",
        )
    if (total := finished_yield(record)) is not None:
        yield Value("finished-yield", "Finished yield", total, GREEN, "green and finished weight")
        if record.product == "dry-cured-ham":
            yield Value("loss-from-green", "Loss of weight", 100 - total, GREEN, "green and finished weight")
        if (target := record.get("target-yield")) is not None:
            how = f"yield less {target:g} %"
            yield Value("yield-off-target", "Finished yield against the target", total - target, "points", how)


def pump_of(record: BatchRecord) -> float | None:
    """Per cent pump, or pick-up of immersed meat; None where it was not weighed."""
    green, injected, cured = record.get("green-weight"), record.get("injected-weight"), record.get("cured-weight")
    if green is None:
        return None
    if record.method == "immersed":
        return None if cured is None else max(0.0, yields.pick_up_percent(green, cured))
    return None if injected is None else yields.pump_percent(green, injected)


def finished_yield(record: BatchRecord) -> float | None:
    """Finished (else cooked) weight as per cent of green; None where they were not weighed."""
    green = record.get("green-weight")
    last = record.get("finished-weight") or record.get("cooked-weight")
    return None if green is None or last is None else yields.yield_percent(green, last)
