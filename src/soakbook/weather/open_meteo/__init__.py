"""Weather from Open-Meteo: what to ask for, and what its answers say in our names and units.

`asking` is read first, then `hourly` for forecast and archive, `members` for the futures of its
ensemble. Days are made in `weather.hours`; fetching is not done here.
"""
