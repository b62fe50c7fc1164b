"""When it sounds: strokes, graces and clicks on a sounded time line, with the feel applied."""
