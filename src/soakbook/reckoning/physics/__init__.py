"""The equations of one plant's water, on numbers or arrays: no book, no clock, no chance.

A number in parentheses is an equation of DEVELOPERS.md, The balance by number.
"""
