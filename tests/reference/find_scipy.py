"""Goes on under a python3 that has SciPy, or tells that there is none.

The first python3 of a machine is not always the one that its SciPy package belongs to.
"""

import importlib.util
import os
import subprocess
import sys

MARK = "REFERENCE_PYTHON_FOUND"  # set for the second interpreter, so that none is tried twice


def candidates():
    """The system's own python3, and every one of the path."""
    folders = ["/usr/bin", *os.environ.get("PATH", "").split(os.pathsep)]
    paths = dict.fromkeys(os.path.join(folder, "python3") for folder in folders if folder)
    return [path for path in paths if os.access(path, os.X_OK)]


def has_scipy(interpreter):
    look = "import importlib.util as u, sys; sys.exit(u.find_spec('scipy') is None)"
    return subprocess.run([interpreter, "-c", look], capture_output=True).returncode == 0


def need_scipy():
    """Returns where SciPy is at hand; else changes the interpreter, or ends the program with 0."""
    if importlib.util.find_spec("scipy"):
        return
    if MARK not in os.environ:
        for interpreter in candidates():
            if has_scipy(interpreter):
                os.environ[MARK] = "1"
                sys.stdout.flush()
                os.execv(interpreter, [interpreter, *sys.argv])
    print("skipped: no python3 with SciPy found")
    sys.exit(0)
