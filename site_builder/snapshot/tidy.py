"""Runs in Pyodide last: forgets where the library was, and what only this run had. Its value is the modules that are held."""

import gc
import linecache
import random
import sys
import zipimport
from dataclasses import is_dataclass

from calc.inputs.rows import entries_of_rows

entries_of_rows.cache_clear()
linecache.clearcache()
# A module that is not held is then simply not found: with the archive's place still known, Python would try to read it.
sys.path[:] = [place for place in sys.path if not place.endswith(".zip")]
sys.path_importer_cache.clear()
vars(zipimport)["_zip_directory_cache"].clear()
for name in ("last_exc", "last_type", "last_value", "last_traceback"):
    sys.__dict__.pop(name, None)
for made in gc.get_objects():
    # What a dataclass is given to be read by a person, of which there is none here: its fields as its docstring, and how it is printed.
    if isinstance(made, type) and is_dataclass(made):
        made.__doc__ = None
        if hasattr(vars(made).get("__repr__"), "__wrapped__"):
            del made.__repr__
random.seed(0)  # anything, but always the same: engine/restore.py takes fresh numbers
gc.collect()
gc.collect()  # what the first one set free may hold more

"\n".join(sorted(sys.modules))
