"""What to do this morning, as a pure function of the book's pages and a day."""
