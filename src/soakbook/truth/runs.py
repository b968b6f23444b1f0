"""A record with its plain run, and which of its days count."""

from typing import NamedTuple

from soakbook.reckoning.simulation.beliefs import Plain
from soakbook.truth.bucket import Course, Forcing, forcing_of, root_zone, run_plain
from soakbook.truth.record import Record
from soakbook.truth.scores import Mask
from soakbook.truth.series import Series
from soakbook.truth.soil_said import soil_of_class

LEAST_COMPARED = 20
OTHER_TEXTURES = ("loam", "sandy loam")
"""A wrong guess, for orientation: the first that is not the record's own."""


class Run(NamedTuple):
    """A record and what the plain reckoning made of it; the course's second soil is the wrong guess."""

    record: Record
    series: Series
    forcing: Forcing
    zone: Plain
    course: Course
    other_texture: str


def run_of(record: Record, series: Series) -> Run:
    """The plain run of a record, by its own soil and by a wrong one."""
    forcing = forcing_of(series, series.cover)
    other = next(name for name in OTHER_TEXTURES if name != record.soil.soil.name)
    own, wrong = (
        root_zone(soil, series.root_depth_m, float(forcing.kcb.max()), record.depletion_p)
        for soil in (record.soil, soil_of_class(other))
    )
    course = run_plain(forcing, [own, wrong], series.root_depth_m)
    return Run(record, series, forcing, own, course, other)


def compared_days(run: Run, measured: Mask, what: str, findings: list[str]) -> Mask:
    """Days that count: measured, in the span, not frozen, and the reckoning's start forgotten.

    Where hardly a day is left by the last of these, it is waived and a finding says so.
    """
    inside = measured & run.series.in_span & ~run.series.frozen
    settled = inside & run.course.settled
    left, of = int(settled.sum()), int(inside.sum())
    if of and left < LEAST_COMPARED:
        findings.append(
            f"{what}: only on {left} of {of} days had the reckoning forgotten how it began (at 0.85 of what the "
            "soil holds), so all are compared"
        )
        return inside
    if left < of:
        findings.append(
            f"{what}: {of - left} days not compared, because rain before them was not known or the reckoning "
            "had only begun"
        )
    return settled
