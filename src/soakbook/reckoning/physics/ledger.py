"""Does the day's water add up? The balance of one step, in millimetres over the cell."""

from soakbook.reckoning.physics.records import Flows, Number, Stores


def imbalance_mm(
    cell_m2: Number, before: Stores, after: Stores, flows: Flows, corrected_l: Number = 0.0
) -> Number:
    """What a step made up or lost, over the cell; 1e-9 mm is already a fault.

    Parameters
    ----------
    cell_m2 : number or array
        Ground of one plant [m2, > 0].
    before, after : Stores
        Of two evenings.
    flows : Flows
        What moved between them.
    corrected_l : number or array
        Water set right by hand between the two, as by a feel [L, signed].

    Returns
    -------
    number or array
        Above 0: water from nowhere; below 0: water gone without a flow [mm over the cell].

    Notes
    -----
    Change of (M A + Sb + Sr + Su), less rain + soak - lost in giving - transpired - evaporated from
    soil - from mulch - drained - run off + corrected, summed in this order.
    """
    moved_l = (
        flows.rain_l
        + flows.soak_l
        - flows.given_lost_l
        - flows.transpired_l
        - flows.soil_evaporated_l
        - flows.mulch_evaporated_l
        - flows.drained_l
        - flows.run_off_l
        + corrected_l
    )
    gained_l = held_l(cell_m2, after) - held_l(cell_m2, before)
    return (gained_l - moved_l) / cell_m2  # (46)


def held_l(cell_m2: Number, stores: Stores) -> Number:
    """Water in mulch, ball, reach and beyond [L a plant]."""
    in_mulch = stores.mulch_store_mm * cell_m2
    return in_mulch + stores.ball_store_l + stores.reach_store_l + stores.beyond_store_l
