"""Outputs of many rigs: what is current is left alone, the rest is made and swapped in as a whole.

``build`` runs one build. ``plan`` says what has to be made, ``workers`` have it made, ``make`` is
one unit of work, ``maker`` and ``pages`` draw the files; ``store`` and ``disk`` bring them into
the output folder, ``manifest`` tells what is there. ``ledger`` keeps the revisions, ``changes``
puts them into words. ``work`` holds what passes between them: an order goes in, a ``RigBuild``
comes back and is what people, the manifest and the page of all rigs are told from.
"""
