"""The content type of each kind of file in dist/: written out, because the types that Python knows depend on the machine.

A .gz and a .bin are files that the page unpacks itself. They are best sent without a Content-Encoding: with one the browser unpacks
the .gz on the way, which the service worker takes as well.
"""

CONTENT_TYPES = {
    ".bin": "application/octet-stream",
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
    ".woff2": "font/woff2",
    ".zip": "application/zip",
}
