"""The pictures of the season's account: soil in section, litres' way, weeks, what the air asked.

One ink, drawn as an old engraver would: dark is many strokes or broad ones, so a photocopier keeps it and nobody needs
to tell colours apart. Geometry is reckoned apart, in points; matplotlib is asked for only when a picture is drawn.
"""
