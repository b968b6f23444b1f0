"""The book as a folder of plain files: what a cell is, what each file holds, reading and writing it.

Nothing here opens a book; `services.exporting` and `services.importing` do.
"""
