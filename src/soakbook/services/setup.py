"""What a gardener can say of the garden itself, gathered for the faces: one use case a module."""

from soakbook.services.beds import bed, beds
from soakbook.services.lists.beds import bed_list
from soakbook.services.lists.plantings import plant_list
from soakbook.services.measuring import jam_jar, ruler
from soakbook.services.moving import move
from soakbook.services.parting import part
from soakbook.services.people import person
from soakbook.services.planting import plant
from soakbook.services.resting import rest
from soakbook.services.rules import rate, restriction
from soakbook.services.taps import tap

__all__ = [
    "bed",
    "bed_list",
    "beds",
    "jam_jar",
    "move",
    "part",
    "person",
    "plant",
    "plant_list",
    "rate",
    "rest",
    "restriction",
    "ruler",
    "tap",
]
