"""What the reader of weather files advises, in the words of a RECORD.toml."""

import re

from soakbook.errors import InputError
from soakbook.weather.columns import tidy

_COLUMN = re.compile(r"say (?P<quantity>\w+)=(?P<header>.+?):(?P<unit>[A-Za-z%][\w/%]*)(?:@\S+)?")
_ORDER = re.compile(r"said: (?P<first>dmy) if it is (?P<one>\S+), (?P<other>mdy) if it is")
_OURS = {"vapour": "ea", "radiation": "rs", "dew": "tdew"}
_UNITS = {"MJ/m2": "mj", "km/h": "kmh", "%": "pct"}


def in_toml_words(fault: InputError) -> InputError:
    """The fault, its advice such as can be written into a RECORD.toml."""
    right = _COLUMN.sub(_column, fault.right)
    right = _ORDER.sub(
        r'said by dates = "\g<first>" if it is \g<one>, dates = "\g<other>" if it is', right
    )
    return InputError(fault.field, fault.value, right)


def named(quantity: str, unit: str) -> str:
    """Our name for a column of weather in some unit: ea_hpa."""
    words = _UNITS.get(unit, tidy(unit).replace("/", " ").replace(" ", "_"))
    return f"{_OURS.get(quantity, quantity)}_{words}"


def _column(said: re.Match[str]) -> str:
    ours = named(said["quantity"], said["unit"])
    return f'write {ours} = "{said["header"]}" under [columns]'
