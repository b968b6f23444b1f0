"""What a garden is made of: records, their bounds, and the reference tables of the trade.

Nothing here computes a balance, opens a file or knows numpy.
"""
