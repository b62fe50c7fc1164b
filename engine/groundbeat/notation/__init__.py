"""How is a beat written on paper?

`spelling` turns the strokes of a beat into a `score`: bars of chords and rests with written values, beams and
tuplets. `staff` says where on the drum staff a surface stands and which mark it carries. `engrave` makes a drawing of
a score, `legend` one that says what its notes mean. Imported on use: nothing here is needed to open a link.
"""
