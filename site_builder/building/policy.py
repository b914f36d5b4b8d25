"""What the pages may load and run: the Content Security Policy, in one place.

The host's answers, the service worker's and each page's own meta tag all take it from here. Nothing is allowed but:

- `script-src 'self'`: our own script files. No inline script and no `eval`, so text that got into a page cannot run.
- `'wasm-unsafe-eval'`: WebAssembly may be compiled, or Python does not start. In spite of its name it allows no `eval`.
- `style-src`, `img-src`, `manifest-src 'self'`: our own style, pictures and web app manifest. No inline style.
- `font-src 'self'`: our own typeface.
- `connect-src 'self'`: the engine fetches its own files and nothing else. A pilot's entries cannot leave the phone.
- `worker-src 'self'`: the service worker and the worker that runs Python.
- `base-uri 'none'`: no `<base>` can turn our relative addresses elsewhere.
- `form-action 'self'`: a form answers in its own page's address, also before any script runs.
- `require-trusted-types-for`, `trusted-types`: where browsers know it, text becomes HTML or a script's address by web/trusted.js alone.
- `frame-ancestors 'none'`: no other site shows a page of ours in a frame, with a number of its own painted over it.
"""

_IN_ANY_PLACE = "; ".join(
    [
        "default-src 'none'",
        "script-src 'self' 'wasm-unsafe-eval'",
        "style-src 'self'",
        "img-src 'self'",
        "font-src 'self'",
        "connect-src 'self'",
        "worker-src 'self'",
        "manifest-src 'self'",
        "base-uri 'none'",
        "form-action 'self'",
        "require-trusted-types-for 'script'",
        "trusted-types fieldslate",
    ]
)

CONTENT_SECURITY_POLICY = f"{_IN_ANY_PLACE}; frame-ancestors 'none'"

# What every answer carries, from the host and from the service worker alike. The camera reads codes, once the pilot allows it.
HEADERS = {
    "content-security-policy": CONTENT_SECURITY_POLICY,
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "camera=(self), display-capture=(), geolocation=(), microphone=(), payment=(), usb=()",
    "referrer-policy": "no-referrer",
    "x-content-type-options": "nosniff",
}

# Browsers ignore frame-ancestors in a meta tag, and complain about it in the console.
META_POLICY = _IN_ANY_PLACE
