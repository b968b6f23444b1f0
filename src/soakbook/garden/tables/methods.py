"""Ways of giving water by hand: how much reaches the soil, and how much of that the ball."""

from typing import NamedTuple

from soakbook.garden.records import HandMethod


class Method(NamedTuple):
    """One way of giving water.

    `aim_fraction` is the share of the water aimed at the ball; None where it is not aimed and falls
    on the ball as on the rest of the bowl, by area.
    """

    name: str
    aim_fraction: float | None
    delivery_efficiency: float


# All common practice, no source (aim 0.3-0.9). Broadcast falls over mulch and bed like rain.
METHODS: dict[HandMethod, Method] = {
    "can": Method("can", 0.6, 0.9),
    "lance": Method("hose and lance", 0.6, 0.9),
    "spray": Method("hose and spray", None, 0.8),
    "drip": Method("drip on the ball", 0.9, 0.95),
    "broadcast": Method("thrown over the bed", None, 0.8),
}
