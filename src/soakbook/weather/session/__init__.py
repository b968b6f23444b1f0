"""The one way out of the house: asking a weather service, politely, and keeping its answers for a while.

The only home of requests, requests_cache and urllib3. What an answer means is for the services' parsers, what a bad
status means for `weather.refusals`. Kept answers serve politeness and a service's bad hour, no more: what it said
goes into the book, and the file here may be thrown away at any time.
"""

from soakbook.weather.session.asking import Answer, Request, Said
from soakbook.weather.session.outside import Outside

__all__ = ["Answer", "Outside", "Request", "Said"]
