"""Where every stroke came from: what one stage did to each stroke, and the way of a stroke through all stages."""
