"""From a book's pages to arrays of members, day by day."""
