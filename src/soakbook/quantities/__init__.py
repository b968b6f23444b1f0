"""Names, units and bounds of quantities; amounts, measures and dates as gardeners write them.

Plain numbers in, plain numbers out: no numpy, no clock, nothing of the garden.
"""
