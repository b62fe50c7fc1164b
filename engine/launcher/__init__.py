"""How does a fresh clone on a bare machine come to serve a page and run its tests?

The launcher runs on the machine's own Python with the standard library alone. It makes .venv, finds or brings
Node, installs the page's packages and, for tests, browsers; then it hands over to the programs in .venv. Each
step leaves a stamp with the hash of what it was made from, so that the next run passes it in milliseconds.
"""
