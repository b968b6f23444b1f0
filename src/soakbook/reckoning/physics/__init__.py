"""The equations of one plant's water, on numbers or arrays: no book, no clock, no chance."""
