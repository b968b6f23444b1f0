"""The specimen's forecasts, invented: `python -m soakbook.specimen.sky_ahead` writes `source/forecasts.csv`.

Every morning at 05:00 there are twenty futures of that day and the seven after it. They are honest: the weather of
`weather.csv` is one more future of the same kind, so of the days given 70 % about 70 % are wet, and among the members
the true day stands at any place equally often. This is had by construction, not by trial:

1. Each day has two scores, normal with mean 0 and sd 1 over the season: one for its rain, one for what makes its ET0
   besides rain. The record's own smoothed climate turns scores into millimetres and back (`climate`); a dry day's
   rain score is drawn from below that of the first drop.
2. A forecaster who knows that climate is told a little more of every day ahead each morning (`Sight`): far off only
   of two days together, nearer by of each alone. What he hears is the truth with an error. What he may then believe is
   the truth's distribution given all he was told (`Belief`, Kalman's update), and a member is one draw of it.

That two days are first seen together makes a member have a far-off rain a day early or late rather than twice or not
at all. Rain and ET0 of a member belong together because a score of rain takes from ET0 (`RAIN_TAKES`). Mornings that
follow each other agree as far as they were told the same. The sights are chosen so that from April to September a
member's ET0 stands off by about 0.4 mm to the third day and from there on by up to 0.6 mm, which is all that the
record's days differ from their season; the rest of the model is as free: common practice, no source.

After the record's end the weather is drawn like a member's. The dice are seeded. As for the season's own, the seed is
chosen, and that is what here is not honest chance: it is the first from 1 on with which exactly three good promises
for the whole of today and tomorrow, given from 1 April to 30 September, are broken, and none for up to three days ahead
is given from 12 to 18 May. So the rain of 14 May comes out of doubtful promises; one seed in some thirty has it so.
"""

import csv
import math
from collections.abc import Iterator, Mapping
from datetime import date, timedelta
from pathlib import Path
from random import Random
from statistics import NormalDist
from typing import NamedTuple

from soakbook.specimen import text
from soakbook.specimen.climate import (
    NORMAL,
    RAIN_LEAVES,
    RAIN_TAKES,
    RECORD_BEGINS,
    Climate,
    Weather,
    climates,
    dot,
)

SEED = 656
MEMBERS = 20
DAYS_AHEAD = 8
MORNINGS_BEFORE = DAYS_AHEAD
"""The forecaster is told for so long before the first issue, so that this one knows as much as later ones."""

COLUMNS = ("issued_on", "for_day", "member", "rain_mm", "et0_mm")
DAY = timedelta(days=1)

Vector = tuple[float, ...]


class Sight(NamedTuple):
    """What a morning tells of a day ahead: its score, or its and the next day's together, with an error."""

    days: int
    error_variance: float


class Kind(NamedTuple):
    """One of the two scores: how much of it a day hands on to the next, and the sights by days ahead."""

    carried: float
    sights: tuple[Sight, ...]


RAIN = Kind(
    carried=0.0,
    sights=(
        Sight(1, 0.4),
        Sight(1, 0.8),
        Sight(1, 1.5),
        *(Sight(2, v) for v in (1.5, 2.5, 4, 8, 12)),
    ),
)
ET0 = Kind(
    carried=0.3,
    sights=(
        Sight(1, 1.5),
        Sight(1, 2),
        Sight(1, 2.5),
        *(Sight(2, v) for v in (2.5, 6, 15, 25, 40)),
    ),
)


class Belief(NamedTuple):
    """Means and covariances of the scores of the days from today on."""

    mean: Vector
    covariance: tuple[Vector, ...]

    def told(self, weights: Vector, heard: float, error_variance: float) -> "Belief":
        """After hearing of weights x scores, with an error: Kalman's update by one reading."""
        P = self.covariance
        shared = tuple(dot(row, weights) for row in P)
        total = dot(shared, weights) + error_variance
        surprise = (heard - dot(self.mean, weights)) / total
        return Belief(
            tuple(m + s * surprise for m, s in zip(self.mean, shared, strict=True)),
            tuple(
                tuple(p - a * b / total for p, b in zip(row, shared, strict=True))
                for row, a in zip(P, shared, strict=True)
            ),
        )

    def next_morning(self, carried: float) -> "Belief":
        """A day later: today drops out, and a day of which only the day before it tells comes in."""
        P = [row[1:] for row in self.covariance[1:]]
        with_new = tuple(carried * p for p in P[-1])
        own = carried**2 * P[-1][-1] + 1 - carried**2
        return Belief(
            (*self.mean[1:], carried * self.mean[-1]),
            (*((*row, new) for row, new in zip(P, with_new, strict=True)), (*with_new, own)),
        )

    def draws(self, dice: Random, count: int) -> Iterator[Vector]:
        """Scores that may be, by Cholesky's root of the covariance."""
        root: list[list[float]] = []
        for i, row in enumerate(self.covariance):
            made: list[float] = []
            for j in range(i):
                made.append((row[j] - dot(made, root[j][:j])) / root[j][j])
            root.append([*made, math.sqrt(row[i] - dot(made, made))])
        for _ in range(count):
            luck = [_normal(dice) for _ in root]
            yield tuple(
                m + dot(row, luck[: len(row)]) for m, row in zip(self.mean, root, strict=True)
            )


def rows(seed: int = SEED) -> Iterator[tuple[str, str, str, str, str]]:
    """The lines of forecasts.csv: by issue, then day, then member."""
    record = _record()
    climate = climates(record, before=MORNINGS_BEFORE, after=DAYS_AHEAD)
    dice = Random(seed)
    scores = _scores(climate, record, dice)
    told = [_mornings(kind, truth, dice) for kind, truth in zip((RAIN, ET0), scores, strict=True)]
    for (issued, rain), (_, et0) in zip(*told, strict=True):
        if issued not in record:
            continue
        drawn = list(zip(rain.draws(dice, MEMBERS), et0.draws(dice, MEMBERS), strict=True))
        for ahead in range(DAYS_AHEAD):
            day = issued + ahead * DAY
            for member, (wet, own) in enumerate(drawn):
                rain_said = _tenths(climate[day].rain_mm(wet[ahead]))
                et0_said = _tenths(climate[day].et0_mm(wet[ahead], own[ahead]))
                yield issued.isoformat(), day.isoformat(), f"{member}", rain_said, et0_said


def _scores(
    climate: Mapping[date, Climate], record: Mapping[date, Weather], dice: Random
) -> tuple[dict[date, float], dict[date, float]]:
    """The two scores of every day, rain's and ET0's own: those of its weather, or drawn where the record has none."""
    rain_scores, own_scores = {}, {}
    own = 0.0
    for day, like in climate.items():
        if day in record:
            of_et0 = like.et0_score(record[day].et0_mm)
            if record[day].rain_mm > 0:
                score = like.rain_score(record[day].rain_mm)
            else:
                score = _dry_score(like.dry_share, of_et0, dice)
            own = (of_et0 + RAIN_TAKES * score) / RAIN_LEAVES
        else:
            score = _normal(dice)
            own = ET0.carried * own + math.sqrt(1 - ET0.carried**2) * _normal(dice)
        rain_scores[day], own_scores[day] = score, own
    return rain_scores, own_scores


def _dry_score(dry_share: float, of_et0: float, dice: Random) -> float:
    """A score below that of the first drop, by the day's ET0 more or less far below."""
    like_it = NormalDist(-RAIN_TAKES * of_et0, RAIN_LEAVES)
    return like_it.inv_cdf(dice.random() * like_it.cdf(NORMAL.inv_cdf(dry_share)))


def _mornings(
    kind: Kind, truth: Mapping[date, float], dice: Random
) -> Iterator[tuple[date, Belief]]:
    """Each morning with what may be believed of its days once it has been told of them."""
    size = DAYS_AHEAD + 1  # a pair may reach a day further than the forecast
    believed = Belief(
        (0.0,) * size,
        tuple(tuple(kind.carried ** abs(i - j) for j in range(size)) for i in range(size)),
    )
    mornings = list(truth)[:-DAYS_AHEAD]
    for number, today in enumerate(mornings):
        if number:
            believed = believed.next_morning(kind.carried)
        for ahead, sight in enumerate(kind.sights):
            seen = range(ahead, ahead + sight.days)
            weights = tuple(float(n in seen) / math.sqrt(sight.days) for n in range(size))
            true = sum(truth[today + n * DAY] for n in seen) / math.sqrt(sight.days)
            heard = true + math.sqrt(sight.error_variance) * _normal(dice)
            believed = believed.told(weights, heard, sight.error_variance)
        yield today, believed


def _record() -> dict[date, Weather]:
    """The specimen's weather from the first day of its record."""
    every = {
        date.fromisoformat(line["date"]): Weather(float(line["rain_mm"]), float(line["eto_mm"]))
        for line in text.rows("weather")
    }
    return {day: came for day, came in every.items() if day >= RECORD_BEGINS}


def _normal(dice: Random) -> float:
    """A normal number out of `random`, the one draw that Python keeps the same between its versions."""
    return NORMAL.inv_cdf(dice.random())


def _tenths(value: float) -> str:
    return f"{round(value, 1):g}"


def main() -> None:
    """Write the forecasts among the specimen's text."""
    target = Path(__file__).parent / "source" / "forecasts.csv"
    with target.open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(COLUMNS)
        writer.writerows(rows())
    print(f"{target}: {target.stat().st_size // 1024} KiB")


if __name__ == "__main__":
    main()
