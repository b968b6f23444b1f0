"""The pure core: physics (equations on arrays), simulation (a season of members), advice (what to do).

Numbers in, records out: no file, clock, network or screen is known here.
"""
