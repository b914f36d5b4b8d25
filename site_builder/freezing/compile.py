"""Runs in Pyodide: /sources.zip -> /compiled.zip, every module compiled by the very Python that will import it.

The file name that tracebacks print is the one that a module has in Pyodide's library archive, where the plain start has it.
"""

import importlib.util
import marshal
import zipfile

ARCHIVE = "/lib/python314.zip"
NO_SOURCE_STAMP = bytes(12)  # flags, time and size of a source file: there is none
NO_DATE = (1980, 1, 1, 0, 0, 0)

with zipfile.ZipFile("/sources.zip") as sources, zipfile.ZipFile("/compiled.zip", "w") as compiled:
    for name in sorted(sources.namelist()):
        content = sources.read(name)
        if name.endswith(".py"):
            code = compile(content, f"{ARCHIVE}/{name}", "exec", dont_inherit=True)
            content = importlib.util.MAGIC_NUMBER + NO_SOURCE_STAMP + marshal.dumps(code)
            name += "c"
        compiled.writestr(zipfile.ZipInfo(name, NO_DATE), content)
