"""Makes the tables in tests/data/reference: what independent libraries say of a grid of inputs.

    python -m pip install -r tests/reference/requirements.txt
    python tests/reference/make.py [MODULE...]

Each module beside this one (seawater, moist_air, siphon, calendar_feeds) gives its tables as name -> (source, header, rows). The source
and the versions of the libraries that answered stand in the first line of each table.
"""

import csv
import importlib.util
import io
import sys
from importlib.metadata import version
from pathlib import Path

HERE = Path(__file__).resolve().parent
OUT = HERE.parent / "data" / "reference"
MODULES = ["seawater", "moist_air", "siphon", "calendar_feeds"]


def load(name):
    """A module beside this one, under a name of its own: a library may be called the same."""
    spec = importlib.util.spec_from_file_location(f"reference_{name}", HERE / f"{name}.py")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def text(source, header, rows):
    what, libraries = source
    answered = ", ".join(f"{library} {version(library)}" for library in libraries)
    out = io.StringIO()
    out.write(f"# {what}, by {answered}; made by tests/reference/make.py\n")
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(header)
    writer.writerows(rows)
    return out.getvalue()


def main():
    # Here lie modules that are called like libraries.
    sys.path[:] = [path for path in sys.path if Path(path or ".").resolve() != HERE]
    OUT.mkdir(parents=True, exist_ok=True)
    for name in sys.argv[1:] or MODULES:
        for table, (source, header, rows) in load(name).tables().items():
            (OUT / f"{table}.csv").write_text(text(source, header, rows), encoding="utf-8")
            print(f"{table}.csv: {len(rows)} rows")


main()
