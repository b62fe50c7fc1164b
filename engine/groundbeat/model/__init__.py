"""What a beat is: meter, places, counts, kit, strokes, roles, feel, and the groove that holds them all."""
