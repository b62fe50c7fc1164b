"""python3 engine serve | test | build | bench | browsers: everything from a bare machine.

    serve [--port N] [--host H]   build the page if it is out of date, and serve it
    test [PYTEST ARGUMENTS]       style, types, build, then all tests
    build [-o DIR]                build the static folder (default dist/) and print what it weighs
    bench [NAMES]                 measure; all of tests/bench/ without names
    browsers                      only install the browsers that the tests use

Needs Python 3.11 or newer and nothing else: what is missing is installed into .venv, web/node_modules and,
for tests as root on Debian, the system. Any trouble is one line that begins with "groundbeat: ".
This file must be readable by any Python 3, so that an old one can be told to be old.
"""

import sys

OLDEST = (3, 11)


def main():  # type: () -> int
    """Check this Python, then let the launcher work."""
    if sys.version_info < OLDEST:
        wanted, found = ".".join(map(str, OLDEST)), ".".join(map(str, sys.version_info[:3]))
        sys.stderr.write("groundbeat: this needs Python %s or newer, and python3 is %s\n" % (wanted, found))
        return 2
    from launcher.commands import run

    return run(sys.argv[1:], __doc__ or "")


if __name__ == "__main__":
    sys.exit(main())
