"""What is done to a beat: selections, one module a kind, the catalogue, and the stack."""
