"""What a gardener can tell the book of what happened, gathered for the faces: one use case a module."""

from soakbook.services.feeling import feel
from soakbook.services.leaving import left
from soakbook.services.looking import look
from soakbook.services.losing import loss
from soakbook.services.mulching import mulch
from soakbook.services.raining import rain
from soakbook.services.soaking import doubts, soak
from soakbook.services.wilting import wilt

__all__ = ["doubts", "feel", "left", "look", "loss", "mulch", "rain", "soak", "wilt"]
