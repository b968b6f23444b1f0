"""Lists that go into the book whole: plantings or beds, pasted or out of a spreadsheet.

`sheet` reads the text, `columns` says which column is what, `faults` gathers what cannot be right;
`plantings` and `beds` are the two use cases.
"""
