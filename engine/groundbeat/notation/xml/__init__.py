"""How does a beat go to other notation programs?

MusicXML 4.0 (W3C Music Notation Community Group, 2021): `write` makes the text, `packed` the compressed file. What is
written and what such a file cannot carry stands in MUSICXML.md. Imported on use.
"""
