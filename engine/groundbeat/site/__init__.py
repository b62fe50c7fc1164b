"""How does Groundbeat become a folder that any web host can serve?

`build` makes that folder: the bundled page, Python in WebAssembly with a library cut down to what is used,
the engine itself as one zip, the kit's sounds, and an example to draw before the engine has started. `server`
serves it on this machine. Nothing here runs in the browser, but `lean` runs in the browser's own Python,
while building.
"""
