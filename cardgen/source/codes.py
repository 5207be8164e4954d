"""Every code the reader can give, with what it means and what to do."""

from __future__ import annotations

from collections.abc import Mapping

FILES: Mapping[str, str] = {
    "file-missing": "There is no file of that name. Nothing was read. Check the spelling and the folder.",
    "file-unreadable": "The file is there but cannot be read: it is a folder or a device, or its permissions"
    " forbid it. Nothing was read.",
    "file-size": "A rig file takes a few kilobytes. A file beyond one megabyte is refused before it is looked"
    " at, as it is some other file or made to exhaust the machine.",
    "file-bom": "The file starts with a byte order mark, an invisible character some editors add. Other YAML"
    " tools take it for part of the first field name. Save the file as UTF-8 without byte order mark.",
    "file-encoding": "The bytes at this place are not UTF-8. Umlauts, degree signs and dashes from another"
    " encoding would come out as other letters on the card. Save the file as UTF-8.",
    "file-control": "An invisible character stands in the text: a control character, a foreign line end, or a"
    " mark that turns the direction of writing and could show digits in another order than they are read."
    " Delete it and type the text again.",
    "text-long": "One text is longer than a card could ever show. Shorten it.",
}
"""Faults of a file as such."""

YAML: Mapping[str, str] = {
    "yaml-syntax": "YAML cannot read the file from this place on. Most often a quote, bracket or colon is"
    " missing, or a line is not indented like its neighbours. Further faults may show once this one is gone.",
    "yaml-tab": "A tab stands where YAML wants blanks. Set the editor to indent by blanks.",
    "yaml-top": "The file has no 'field: value' lines at its top level: it is empty, or a list, or one text.",
    "yaml-documents": "A line '---' starts a second document. A file describes one rig; put the second one into"
    " its own file.",
    "yaml-directive": "A line starting with '%' gives orders to YAML readers. Rig files need none.",
    "yaml-duplicate": "A field is written twice in the same group. YAML readers silently keep one of the two, so"
    " a limit could be lost. Keep the right one and delete the other.",
    "yaml-key": "A field name is missing, is a list or group, or is a word that YAML reads as true or false.",
    "yaml-tag": "A word starting with '!' asks the reader to make a certain type, in some readers even to run"
    " code. Rig files need none: delete it.",
    "yaml-anchor": "A word starting with '&' names a place to be repeated elsewhere. Rig files do not use this,"
    " as a few such lines can grow without bound. Use a shared part instead.",
    "yaml-alias": "A word starting with '*' repeats another place of the file. Rig files do not use this, as a"
    " few such lines can grow without bound. Use a shared part, or put text that starts with '*' in quotes.",
    "yaml-merge": "'<<' merges another place of the file into this one. Use a shared part: 'part: NAME'.",
    "yaml-word": "YAML 1.1 reads plain yes, no, on, off, y and n as true or false, YAML 1.2 reads them as words."
    " So that no tool misreads the file, write true or false for a flag, and quotes around a text.",
    "yaml-number": "YAML 1.1 reads some plain figures as something else: 1:30 as ninety, 0119 as an octal number,"
    " 1_000 without the underscore, .inf and .nan as no number at all. Put a text in quotes.",
    "yaml-comma": "Inside brackets or braces a comma separates values, so that {weight: 5,000 lb} holds the weight"
    " '5' and a field named '000 lb'. Put the quantity in quotes, or write the group on lines of its own.",
    "yaml-depth": "Groups are nested deeper than any rig needs. Check indentation and brackets.",
    "yaml-nodes": "The file holds far more values than any rig has. Check that it is the right file.",
}
"""Faults of YAML, and places that YAML readers take differently."""

PARTS: Mapping[str, str] = {
    "part-name": "A part is named by letters, digits, '-', '_' and '/', counted from the folder 'parts' beside"
    " the rig file, without ending: 'part: vehicles/slate'. Anything that could lead out of that folder is"
    " refused.",
    "part-missing": "There is no such part in the folder 'parts' beside the rig file. The nearest name is given.",
    "part-outside": "The part is a link that leads out of the folder 'parts'. Copy the file into the folder.",
    "part-cycle": "Parts refer to each other in a circle, so that they never end. Delete one reference.",
    "part-size": "Parts refer to parts so often that the rig would hold far too many values.",
}
"""Faults of references to shared parts."""

SHAPE: Mapping[str, str] = {
    "key-unknown": "There is no field of this name here; a rig with a mistyped limit would be checked without it."
    " The nearest field that fits is suggested. Mind the indentation: the field may belong elsewhere.",
    "key-missing": "A field without which nothing can be computed is missing or unknown. The message shows an"
    " example of what to write.",
    "value-choice": "The field takes one of a few words. The nearest one is suggested.",
    "value-unknown": "Unknown is an answer almost everywhere, but not here: the field has a usual value that would"
    " then be guessed, or it is an item of a list. Write a value, or delete the line to accept the usual one.",
    "node-kind": "A text stands where a group or list belongs, or the other way round. Check the indentation:"
    " lines of a group are indented below its name, items of a list start with '- '.",
    "flag": "The field takes true or false.",
    "count": "The field takes a whole number without unit.",
    "date": "The field takes a day written year-month-day, such as 2026-04-30.",
    "number": "The field takes a plain number without unit.",
}
"""Faults of fields and of plain values."""

QUANTITIES: Mapping[str, str] = {
    "quantity-bare": "A number without its unit. Pounds and kilograms are mixed up this way, so every quantity"
    " carries its unit.",
    "quantity-unit": "The unit is not one that this kind of quantity is written in. The usual ones are listed.",
    "quantity-kind": "The unit belongs to another kind of quantity, such as a force where a mass is meant.",
    "quantity-absolute": "The pressure counts from vacuum. Tires are set by gauge pressure, which is about one"
    " atmosphere less.",
    "quantity-number": "The number cannot be read. Use a point for decimals; a comma only groups thousands.",
    "quantity-negative": "The value is below zero where only zero or more makes sense.",
    "quantity-range": "The value is far outside what a rig can have, most often a wrong unit or a slipped digit.",
}
"""Faults of quantities."""

CODES: Mapping[str, str] = {**FILES, **YAML, **PARTS, **SHAPE, **QUANTITIES}
"""Every code of the reader and its explanation."""
