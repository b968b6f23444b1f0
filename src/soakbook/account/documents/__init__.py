"""Documents: a template and plain data become one HTML file or one PDF. What they say is made elsewhere."""
