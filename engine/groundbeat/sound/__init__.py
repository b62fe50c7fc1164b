"""How do the drums sound? A drum kit made of numbers; for the desk only (NumPy), never in a browser."""
