"""Runs in Pyodide: /sources.zip -> /compiled.zip, every module compiled by the very Python that will import it.

The file name that tracebacks print is the one that a module has in Pyodide's library archive, where the plain start has it.
"""

import ast
import importlib.util
import marshal
import types
import zipfile

ARCHIVE = "/lib/python314.zip"
NO_SOURCE_STAMP = bytes(12)  # flags, time and size of a source file: there is none
NO_DATE = (1980, 1, 1, 0, 0, 0)
NO_LINE = 0x80 | 15 << 3  # the first byte of an entry in CPython's table of locations

HAVE_DOCSTRINGS = (ast.Module, ast.ClassDef, ast.FunctionDef, ast.AsyncFunctionDef)


def compiled_module(source: bytes, name: str) -> types.CodeType:
    """Return its code without docstrings: nobody reads them in a browser. What it asserts stays, unlike with -OO."""
    tree = ast.parse(source)
    for node in ast.walk(tree):
        if isinstance(node, HAVE_DOCSTRINGS) and ast.get_docstring(node, clean=False) is not None:
            docstring = node.body.pop(0)
            node.body = node.body or [ast.copy_location(ast.Pass(), docstring)]
    return without_lines(compile(tree, f"{ARCHIVE}/{name}", "exec", dont_inherit=True))


def without_lines(code: types.CodeType) -> types.CodeType:
    """Return it without its line numbers: a page tells the last line of a traceback, and that has none.

    Its table must still cover all of the code. A byte of it covers up to eight units, and 15 says that they have no line.
    """
    whole, rest = divmod(len(code.co_code) // 2, 8)
    table = bytes([NO_LINE | 7] * whole + [NO_LINE | rest - 1] * (rest > 0))
    constants = [without_lines(one) if isinstance(one, types.CodeType) else one for one in code.co_consts]
    return code.replace(co_linetable=table, co_consts=tuple(constants))


with zipfile.ZipFile("/sources.zip") as sources, zipfile.ZipFile("/compiled.zip", "w") as compiled:
    for name in sorted(sources.namelist()):
        content = sources.read(name)
        if name.endswith(".py"):
            content = importlib.util.MAGIC_NUMBER + NO_SOURCE_STAMP + marshal.dumps(compiled_module(content, name))
        compiled.writestr(zipfile.ZipInfo(f"{name}c" if name.endswith(".py") else name, NO_DATE), content)
