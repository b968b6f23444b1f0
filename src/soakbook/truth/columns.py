"""Which column of a record's CSV is what: by the record's own map first, else by the header's words.

Weather columns are those of `soakbook.weather.columns`; here are the measured ones that no garden has.
"""

from collections.abc import Mapping, Sequence
from typing import NamedTuple, TypeVar

from soakbook.errors import InputError
from soakbook.truth.header_words import (
    FORM_UNITS,
    PERCENT,
    PLAIN,
    REFERENCE_ET,
    SOIL_WARMTH,
    VPD,
    VPD_KPA,
    VWC,
    our_words,
)
from soakbook.truth.probes import ROOT_ZONE, Probe
from soakbook.weather.column_map import ColumnMap
from soakbook.weather.columns import Column, UnitUnsaid, recognise, tidy

LEFT_OUT = "-"
WIND_HEIGHT_M = 2.0


class Measured(NamedTuple):
    """A measured column: its header, and what brings its values into our unit."""

    header: str
    factor: float = 1.0
    in_percent: bool = False


Key = TypeVar("Key", str, Probe)
Kept = TypeVar("Kept", Column, Measured)


class Columns(NamedTuple):
    """A CSV as understood. `weather` goes to the reader of weather files as it is."""

    weather: ColumnMap
    vwc: Mapping[Probe, Measured]
    et: Measured | None
    et_quality: Measured | None
    percolation: Measured | None
    given: Measured | None
    kcb: Measured | None
    ground_cover: Measured | None
    soil_warmth: Measured | None
    vpd: Measured | None
    findings: tuple[str, ...]


def columns_of(
    headers: Sequence[str], said: Mapping[str, str], wind_height_m: float | None
) -> Columns:
    """What stands in a CSV with these headers.

    Parameters
    ----------
    headers : sequence of str
        As the file has them.
    said : mapping of str to str
        Our name -> the file's header, or "-" to leave out what the header would be taken for.
    wind_height_m : float or None
        Of the gauge, where the header does not say it.

    Raises
    ------
    InputError
        A column that is said and not there, or a name we do not have.
    """
    found = _Found(headers)
    for key, value in said.items():
        swapped = value not in headers and key in headers and _Found(()).take(value, key)
        name, header = (value, key) if swapped else (key, value)
        if header != LEFT_OUT and header not in headers:
            raise InputError(
                f"columns: {name}", header, f"a column of the file: {', '.join(headers)}"
            )
        if not found.take(name, header):
            raise InputError(
                "columns",
                name,
                "one of date, rain_mm, tmin_c, tmax_c, tmean_c, rhmin_pct, rhmax_pct, "
                "rh_pct, ea_kpa, vpd_hpa, wind_m_s, rs_mj, sun_h, vwc_5, vwc_0_30, vwc_mean, et_mm, et_quality, "
                "percolation_mm, water_given_mm, kcb, ground_cover, tsoil_c",
            )
    mapped = {*said, *said.values()}
    for header in headers:
        if (
            header
            and header not in mapped
            and not found.take(header, header)
            and tidy(header) not in ("date", "day")
        ):
            found.unknown.append(header)
    return found.columns(wind_height_m)


class _Found:
    """Columns as they are found; the first of each kind is kept."""

    def __init__(self, headers: Sequence[str]) -> None:
        self.headers = headers
        self.unknown: list[str] = []
        self._twice: list[str] = []
        self._assumed: list[str] = []
        self._date: str | None = None
        self._weather: dict[str, Column] = {}
        self._weather_out: set[str] = set()
        self._vwc: dict[Probe, Measured] = {}
        self._plain: dict[str, Measured] = {}
        self._warmth: dict[float, str] = {}

    def take(self, name: str, header: str) -> bool:
        """Put a header where its name belongs; whether there is a place for it."""
        plain = tidy(name)
        if plain in ("date", "day"):
            self._date = self._date or header
            return True
        return self._take_measured(plain, header) or self._take_weather(name, header)

    def _take_measured(self, plain: str, header: str) -> bool:
        if (vwc := VWC.fullmatch(plain)) is not None:
            probe = _probe(header, vwc["depth"], vwc["bottom"])
            if probe is not None:
                in_percent = vwc["unit"] in PERCENT
                self._keep(self._vwc, probe, Measured(header, in_percent=in_percent))
            return probe is not None
        if (warmth := SOIL_WARMTH.fullmatch(plain)) is not None:
            self._warmth.setdefault(float(warmth["depth"] or 0), header)
            return True
        if (vpd := VPD.fullmatch(plain)) is not None:
            if vpd["unit"] not in VPD_KPA:
                raise InputError(
                    "unit of vpd",
                    header,
                    "stated: vpd_kpa or vpd_hpa, as the name or under columns",
                )
            self._keep(self._plain, "vpd", Measured(header, VPD_KPA[vpd["unit"]]))
            return True
        kind = next((kind for kind, way in PLAIN.items() if way.fullmatch(plain)), None)
        if kind is not None:
            self._keep(self._plain, kind, Measured(header))
        return kind is not None

    def _take_weather(self, name: str, header: str) -> bool:
        name = our_words(name)
        found = recognise(name)
        if found is None:
            return False
        if header == LEFT_OUT:
            self._weather_out.add(found.quantity)
            return True
        if isinstance(found, UnitUnsaid):
            unit = FORM_UNITS[found.quantity]
            self._assumed.append(f"{header!r} taken to be in {unit}")
            with_unit = recognise(f"{name} {unit}")
            found = (
                with_unit if isinstance(with_unit, Column) else Column(found.quantity, name, unit)
            )
        self._keep(
            self._weather,
            found.quantity,
            Column(found.quantity, header, found.unit, found.height_m),
        )
        return True

    def _keep(self, among: dict[Key, Kept], key: Key, column: Kept) -> None:
        if key in among:
            self._twice.append(column.header)
        else:
            among[key] = column

    def columns(self, wind_height_m: float | None) -> Columns:
        """All of it, with what was assumed and left out in words."""
        findings = list(self._assumed)
        wind = self._weather.get("wind")
        if wind is not None and wind.height_m is None and wind_height_m is None:
            findings.append(
                f"no wind_height_m said: {wind.header!r} taken as measured at {WIND_HEIGHT_M:g} m"
            )
        others = [header for header in self.unknown if not REFERENCE_ET.match(tidy(header))]
        if len(others) < len(self.unknown):
            findings.append("a column of reference evaporation is not taken: it is reckoned here")
        if others:
            findings.append(f"columns not understood, and left out: {', '.join(map(repr, others))}")
        if self._twice:
            findings.append(
                f"columns of what another gives already, left out: {', '.join(map(repr, self._twice))}"
            )
        kept = {key: one for key, one in self._plain.items() if one.header != LEFT_OUT}
        shallowest = self._warmth[min(self._warmth)] if self._warmth else LEFT_OUT
        return Columns(
            weather=ColumnMap(
                columns=tuple(
                    one for word, one in self._weather.items() if word not in self._weather_out
                ),
                left_out=tuple(
                    word
                    for word in FORM_UNITS
                    if word not in self._weather or word in self._weather_out
                ),
                date_header=self._date,
                wind_height_m=wind_height_m or WIND_HEIGHT_M,
            ),
            vwc={probe: one for probe, one in sorted(self._vwc.items()) if one.header != LEFT_OUT},
            et=kept.get("et"),
            et_quality=kept.get("et_quality"),
            percolation=kept.get("percolation"),
            given=kept.get("given"),
            kcb=kept.get("kcb"),
            ground_cover=kept.get("ground_cover"),
            soil_warmth=None if shallowest == LEFT_OUT else Measured(shallowest),
            vpd=kept.get("vpd"),
            findings=tuple(findings),
        )


def _probe(header: str, depth: str | None, bottom: str | None) -> Probe | None:
    """The sensor or layer that a header's numbers say; None where they make neither."""
    if depth is None:
        return ROOT_ZONE
    if bottom is not None:
        top_cm, bottom_cm = float(depth), float(bottom)
        return Probe(bottom_cm, top_cm) if top_cm < bottom_cm else None
    if 0 < float(depth) < 1:
        raise InputError("depth of a sensor", header, "in centimetres: vwc_5 for 5 cm")
    return Probe(float(depth), float(depth))
