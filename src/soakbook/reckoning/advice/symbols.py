"""The same morning in the terms of FAO Irrigation and Drainage Paper 56, with equation numbers."""

from collections.abc import Iterator

from soakbook.reckoning.advice.judging import Judgement, moved_yesterday
from soakbook.reckoning.advice.why_report import Symbol
from soakbook.reckoning.physics.roots import canopy_m2
from soakbook.reckoning.simulation.lanes import plain


def symbols_of(judgement: Judgement, row: int) -> tuple[Symbol, ...]:
    """Terms of one planting's plain run: this morning's stores, and what moved since yesterday morning."""
    return tuple(_morning(judgement, row)) + tuple(_step(judgement, row))


def _morning(judgement: Judgement, row: int) -> Iterator[Symbol]:
    season, standing = judgement.season, judgement.morning
    plot, wet = season.plot, standing.wetness
    step = season.skies.on(judgement.dawn.day)
    leaf = plain(
        season.ground(judgement.dawn.day, slice(0, judgement.dawn.size)).leaf_fraction, row
    )
    rows = slice(0, judgement.dawn.size)
    canopy = canopy_m2(*season.parameters(rows), standing.stores.warm_days)
    yield Symbol("ET0", "reference evapotranspiration assumed today", step.et0_mm, "mm", "FAO eq 6")
    at_bed = step.et0_mm * plain(plot.exposure_factor, row)
    yield Symbol("ET0 x exposure", "the same at the bed", at_bed, "mm", "(16)")
    yield Symbol(
        "Kcb", "basal coefficient over the canopy", plain(plot.kcb, row) * leaf, "-", "FAO eq 69"
    )
    yield Symbol(
        "Kc max", "upper limit of evaporation and transpiration", step.kc_max, "-", "FAO eq 72"
    )
    yield Symbol(
        "fc", "canopy over the cell", plain(canopy, row) / plain(plot.cell_m2, row), "-", "(8)"
    )
    ball = plain(standing.roots.ball_capacity_l, row)
    if ball > 0:
        yield from _store(
            "ball", ball, plain(standing.stores.ball_store_l, row), plain(wet.ball_limit, row)
        )
    reach = plain(standing.roots.reach_capacity_l, row)
    yield from _store(
        "reach", reach, plain(standing.stores.reach_store_l, row), plain(wet.bed_limit, row)
    )
    yield Symbol(
        "fb", "share of the drinking asked of the ball", plain(wet.ball_share, row), "-", "(34)"
    )
    yield Symbol("w", "wetness of the leading store", plain(wet.lead, row), "-", "(40)")
    yield Symbol("limit", "the same at its threshold", plain(wet.lead_limit, row), "-", "(40)")
    yield Symbol("TEW", "total evaporable water", plain(plot.tew_mm, row), "mm", "(7), FAO eq 73")
    yield Symbol("REW", "readily evaporable water", plain(plot.rew_mm, row), "mm", "FAO table 19")
    bowl, open_ground = (
        standing.stores.bowl_skin_depletion_mm,
        standing.stores.open_skin_depletion_mm,
    )
    yield Symbol(
        "De bowl", "skin depletion, watered part", plain(bowl, row), "mm", "(24), FAO eq 77"
    )
    yield Symbol(
        "De open", "skin depletion, open ground", plain(open_ground, row), "mm", "(25), FAO eq 77"
    )


def _store(name: str, capacity: float, store: float, limit: float) -> Iterator[Symbol]:
    p = 1 - limit
    yield Symbol(
        f"TAW {name}", f"total available water of the {name}", capacity, "L", "(14), FAO eq 82"
    )
    yield Symbol(f"p {name}", "depletion fraction of the day", p, "-", "(33), FAO table 22")
    yield Symbol(
        f"RAW {name}", f"readily available water of the {name}", p * capacity, "L", "FAO eq 83"
    )
    yield Symbol(f"Dr {name}", f"depletion of the {name}", capacity - store, "L", "FAO eq 85")


_CAME = (
    ("P", "rain that came to the cell since yesterday morning", "rain_l", "(46)"),
    ("I", "given by hand since yesterday morning", "soak_l", "(19)"),
    ("DP", "drained below the bed since yesterday morning", "drained_l", "(26), FAO eq 88"),
    ("RO", "ran off since yesterday morning", "run_off_l", "(18)"),
)
_WENT = (
    ("T0", "asked by the plant yesterday", "asked_l", "(32)"),
    ("T", "transpired yesterday", "transpired_l", "(36), (37)"),
    ("E", "evaporated from soil yesterday", "soil_evaporated_l", "(30), FAO eq 71"),
    ("E mulch", "evaporated from the mulch yesterday", "mulch_evaporated_l", "(29)"),
)


def _step(judgement: Judgement, row: int) -> Iterator[Symbol]:
    """What came with yesterday's step and has come since, as this morning's stores hold it; what went."""
    moved, received = moved_yesterday(judgement, row), judgement.morning.received
    for symbol, name, field, equation in _CAME:
        litres = plain(getattr(received, field), row) + (getattr(moved, field) if moved else 0.0)
        yield Symbol(symbol, name, litres, "L a plant", equation)
    if moved is None:
        return
    felt_l = plain(judgement.dawn.corrected_l, row)
    if felt_l:
        yield Symbol("C", "moved by this morning's feels", felt_l, "L a plant", "(45)")
    for symbol, name, field, equation in _WENT:
        yield Symbol(symbol, name, getattr(moved, field), "L a plant", equation)
    if moved.asked_l > 0:
        ks = moved.transpired_l / moved.asked_l
        yield Symbol("Ks", "stress coefficient yesterday", ks, "-", "FAO eq 84")
