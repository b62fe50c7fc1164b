"""How a groove travels: the groove file, the link, tablature out, and the account of its stages as JSON."""
