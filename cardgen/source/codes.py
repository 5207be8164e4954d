"""The register of fault codes: every code of every room, with what it means and what to do."""

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
    "quantity-zero": "Zero is written where only more than zero makes sense. Write 'unknown' for what is not known.",
    "quantity-range": "The value is far outside what a rig can have, most often a wrong unit or a slipped digit.",
}
"""Faults of quantities."""

WEIGHTS: Mapping[str, str] = {
    "tongue-above-weight": "The {tongue} cannot weigh as much as the whole trailer. One of the two is mistyped, or"
    " they hold for different states.",
    "side-above-weight": "Left wheels less right wheels of an empty trailer are at most a fifth of what it weighs.",
    "gvwr-below-empty": "The empty trailer already weighs more than its {trailer_rating}. Read the {maker_label} again.",
    "capacity-above-gvwr": "The {trailer_payload} on the {weight_label} cannot exceed the {trailer_rating}.",
    "gtm-above-gvwr": "{gtm} is what rests on the wheels of the coupled, loaded trailer; the whole trailer's rating"
    " ({trailer_rating}, in Australia {atm}) also counts what rests on the vehicle and cannot be less.",
    "gvwr-below-curb": "The vehicle's {curb} exceeds its {vehicle_rating}. Read the {maker_label} again.",
    "gcwr-below-gvwr": "{combination_rating} is the rating of vehicle and trailer together and cannot be below the vehicle's {vehicle_rating}.",
    "curb-axle": "One axle cannot carry more than the whole {curb}.",
    "curb-split": "Front and rear axle of the {curb} must add up to it within 1 %. Take all three from one"
    " weighing, or give two of them.",
    "axle-count": "Trailers described here have one to four axles; where some have brakes their number must be said.",
    "gawr-count": "One {gross_axle} per axle is needed, front axle first.",
    "braked-axles": "More axles with brakes than axles.",
    "tire-count": "An axle carries two tires, or four in dual fitment.",
}
"""Weights, ratings and counts."""

GEOMETRY: Mapping[str, str] = {
    "axle-ahead": "The axles must lie behind the coupling. Measure from the coupling center back to the center of"
    " the axle group, and between neighbouring axles.",
    "axle-behind": "The axle group cannot lie behind the trailer's rear end.",
    "wheelbase-short": "A wheelbase below 1 m is a slip of unit or digit (common practice, no source).",
    "overhang-sign": "Overhang is counted from the rear axle back to the coupling: positive for a {receiver},"
    " negative or nearly zero for a hitch in the bed.",
    "body-order": "The rear wall must lie behind the front wall; both are counted from the coupling.",
    "track-wide": "The track, from tire center to tire center, cannot exceed the trailer's width.",
    "position-outside": "Something sits more than 1 m outside the trailer or vehicle. Check the length and its"
    " sign: in the trailer positions count rearward from the coupling, in the vehicle forward from the rear axle.",
}
"""Lengths and positions."""

NAMES: Mapping[str, str] = {
    "tank-unknown": "A fill is given for a tank that trailer.tanks does not describe.",
    "cylinder-unknown": "A fill is given for a cylinder that trailer.cylinders does not describe.",
    "without-unknown": "A thing left at home is neither one of the cylinders nor one of the batteries.",
    "set-unknown": "A loading case takes a cargo set that no cargo item belongs to. An item joins a set by its"
    " line 'set:'.",
    "item-unknown": "The empty weight is said to include a cargo item that trailer.cargo does not list.",
    "occupant-unknown": "A loading case takes a person whom 'occupants' does not list.",
    "seat-unknown": "An occupant sits in a row that vehicle.seats does not list.",
    "case-unknown": "A weighing was made in a loading case that 'cases' does not list.",
    "cases-none": "At least one loading case is needed: without it there is nothing to compute.",
    "wheel-name": "Wheels are named by side and axle, counted from the front: left 1, right 1, left 2 and so on.",
    "listed-twice": "The same name stands twice in one list and would be counted twice.",
    "name-twice": "Two things of one list have the same name, so that no other line can tell them apart.",
    "name-empty": "A name is empty. Write one, as the card and other lines refer to it.",
    "nickname-reserved": "The output folder needs this name itself, or Windows keeps it for a device.",
}
"""Names."""

GEAR: Mapping[str, str] = {
    "bed-hitch": "Hitch and trailer do not go together: a fifth wheel or gooseneck trailer needs a hitch in the"
    " bed of its own kind, a ball trailer a {receiver}.",
    "ball-size": "Hitch balls come in a few sizes only (common practice, no source). 2 in is not 50 mm: write what"
    " is stamped.",
    "fill-above": "A tank cannot hold more than its capacity.",
    "fill-kind": "Gas is counted as a share of a full cylinder, not as a volume.",
    "gallon-bare": "Outside the United States a plain 'gal' may be either gallon: a US gallon is 3.785 L, an"
    " imperial gallon 4.546 L. Write 'US gal' or 'imp gal'.",
    "thousands-point": "A weight with three decimals, such as 1.500 kg, is one and a half kilograms to some and"
    " fifteen hundred to others. Write 1500 kg, 1,500 kg or 1.5 kg.",
    "date-code": "The date code is the last four digits of the tire identification number: week 01 to 53, then the"
    " year. Three digits mean a tire made before 2000.",
    "speed-symbol": "The speed symbol is the letter after the load index. I, O, X and a single Z are not used.",
    "table-rows": "Pressure and load of a load table must both rise from row to row. Copy the maker's rows as"
    " printed, lowest pressure first.",
    "dual-load": "In dual fitment a tire carries less than in single fitment, never more.",
}
"""Gear, fills and tires."""

PREFERENCES: Mapping[str, str] = {
    "band-order": "The lower end of a band lies above its upper end.",
    "year": "A model year is four digits, 1940 to 2100.",
    "date-order": "A day lies before the trailer was made, or outside 1940 to 2100.",
    "base-url": "The address must be that of a folder on the web, starting with http:// or https://.",
    "beam-lever": "The jack stands on the fixed support of the beam, so that the scale reads nothing of it.",
}
"""The owner's wishes."""

CHECKLIST_CODES: Mapping[str, str] = {
    "checklist-phase": "An own item names a phase that the checklist does not have, so it could not be printed"
    " anywhere. The nearest phase is suggested.",
    "checklist-text": "An own item, or the new wording of an item, has no text and would print as an empty line.",
    "checklist-long": "A safety-critical item of the owner's own, or the new wording of an item of the short list, is"
    " longer than a line of the glovebox card.",
    "checklist-many": "With the owner's safety-critical items the short list holds more lines than its face. None is"
    " dropped for it: make some of them not safety-critical, and they stand on the departure card.",
    "checklist-item": "No item has this id, so the change would be lost without a word. The nearest id is suggested.",
    "checklist-twice": "One item is both reworded and removed. Keep one of the two.",
    "checklist-reason": "An item is removed without a reason. The reason is printed with the removal, so that"
    " whoever borrows the rig can see what was left out and why.",
}
"""Faults in the owner's changes to the checklist."""

WISH_CODES: Mapping[str, str] = {
    "card-unknown": "preferences.cards names a card that is not made here. The nearest id is suggested;"
    " 'cardgen explain' lists all cards.",
    "text-room": "A name, number or note is longer than its place on a card that the rig prints, in the size it prints."
    " The fault says how many of its letters there is room for; narrow letters leave more room than wide ones.",
    "size-unknown": "preferences.size names a card size that is not made here. The nearest one is suggested.",
}
"""Wishes about print that only the printing rooms can judge."""

OUTPUT_CODES: Mapping[str, str] = {
    "nickname-taken": "Two rigs have nicknames that lead to the same output folder, or the folder belongs to"
    " another rig's earlier output. Give one of them another nickname.",
    "revision-file": "A file of the revisions kept beside the rigs cannot be used: it was edited by hand, damaged,"
    " holds an unfinished merge, or the one before it is missing. Take the file from version control again;"
    " nothing was written for the rig.",
    "rig-renamed": "The rig cannot go on with the revisions of its old name: there are none, or it has some under its new"
    " name already.",
    "revision-twice": "Two people gave the same revision number to different cards. Delete the file whose cards"
    " were never handed out, or go on from both with 'cardgen build --join-revisions'.",
}
"""Faults of output folders and of the ledger of revisions."""

SHEET_CODES: Mapping[str, str] = {
    "sheet-syntax": "The file cannot be read as CSV from this line on; most often a quotation mark is missing."
    " Export it from the spreadsheet again.",
    "sheet-header": "The first line must name the columns: name, where and weight, and as needed x, y, z,"
    " ahead_of_rear_axle, set and movable, each once. 'cardgen cargo RIG --export FILE.csv' writes such a file.",
    "sheet-row": "A row has more cells than the first line names. Most often a comma inside a cell, as in 3,500 lb,"
    " was not put in quotation marks.",
    "sheet-size": "The sheet has far more rows than any rig carries things. Check that it is the right file.",
    "sheet-where": "The column 'where' says whether a thing rides in the trailer or in the vehicle.",
    "sheet-place": "Things in the trailer have x, y and z; things in the vehicle are measured ahead of its rear axle."
    " A cell of the other side is filled, so one of the two is mistaken.",
}
"""Faults of a cargo sheet and what they mean."""

FAULT_CODES: Mapping[str, str] = {
    **FILES, **YAML, **PARTS, **SHAPE, **QUANTITIES, **WEIGHTS, **GEOMETRY, **NAMES, **GEAR, **PREFERENCES,
}  # fmt: skip
"""What reading a rig file by itself can give, in the order in which a file is looked at."""

ALL_CODES: Mapping[str, str] = {**FAULT_CODES, **CHECKLIST_CODES, **WISH_CODES, **OUTPUT_CODES, **SHEET_CODES}
"""Every code that any command can report."""
