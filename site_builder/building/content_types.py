"""The content type of each kind of file in dist/: written out, because the types that Python knows depend on the machine.

A .gz is a file that the page unpacks itself. It must not be sent with a Content-Encoding: the browser would unpack it on the
way, and its hash would not fit.
"""

CONTENT_TYPES = {
    ".css": "text/css; charset=utf-8",
    ".gz": "application/gzip",
    ".html": "text/html; charset=utf-8",
    ".ico": "image/x-icon",
    ".js": "text/javascript; charset=utf-8",
    ".json": "application/json",
    ".mjs": "text/javascript; charset=utf-8",
    ".png": "image/png",
    ".svg": "image/svg+xml",
    ".txt": "text/plain; charset=utf-8",
    ".wasm": "application/wasm",
    ".webmanifest": "application/manifest+json",
    ".zip": "application/zip",
}
