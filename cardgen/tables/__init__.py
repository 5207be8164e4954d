"""Published figures, each with the document it comes from; nothing is extrapolated.

Every module reads its figures from a file in ``data/`` and hands them out in SI.
The figures there stand as printed, in the unit they were printed in.
"""
