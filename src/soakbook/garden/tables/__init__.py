"""The reference tables of the trade: what a soil, a ball, a mulch, a plant, a place usually is.

Every number stands with its source, or its mark: R read in a source, C computed, M from memory,
CP common practice. A gardener who knows better can correct a line here.
"""
