"""Run the command line: `python -m groundbeat.cli`."""

from . import main

if __name__ == "__main__":
    main()
