"""How does a MIDI file become a base beat?

`reader` turns bytes into events, `drums` tells which of them are drum strokes and on what, `base_beat` lays a
few bars of them on columns. Imported on use: nothing here is needed to open a link.
"""
