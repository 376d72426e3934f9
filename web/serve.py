"""Serves a folder on this machine alone: python3 web/serve.py PORT FOLDER.

PORT 0 takes any free port. Another port that is taken gives way to the next
free one. The address is the first line printed.
"""

import functools
import http.server
import sys

TRIES = 100


class Handler(http.server.SimpleHTTPRequestHandler):
    # Some systems' own tables give these types wrongly or not at all, and a
    # browser refuses a module or a streamed wasm of the wrong type.
    extensions_map = http.server.SimpleHTTPRequestHandler.extensions_map | {
        ".css": "text/css; charset=utf-8",
        ".html": "text/html; charset=utf-8",
        ".js": "text/javascript; charset=utf-8",
        ".json": "application/json",
        ".mjs": "text/javascript; charset=utf-8",
        ".svg": "image/svg+xml",
        ".wasm": "application/wasm",
        ".webmanifest": "application/manifest+json",
    }

    def end_headers(self):
        # A rebuilt page must never meet an old part of itself.
        self.send_header("Cache-Control", "no-store")
        super().end_headers()

    def log_request(self, code="-", size="-"):
        """Says nothing: errors print their own line."""


def listen(port, folder):
    handler = functools.partial(Handler, directory=folder)
    last = port if port == 0 else min(port + TRIES, 65535)
    for candidate in range(port, last + 1):
        try:
            return http.server.ThreadingHTTPServer(("127.0.0.1", candidate), handler)
        except OSError as error:
            problem = error
    sys.exit(f"no free port from {port} to {last}: {problem}")


def main():
    if len(sys.argv) != 3 or not sys.argv[1].isdigit() or int(sys.argv[1]) > 65535:
        sys.exit(__doc__)
    server = listen(int(sys.argv[1]), sys.argv[2])
    print(f"http://localhost:{server.server_port}/", flush=True)
    try:
        server.serve_forever()
    except KeyboardInterrupt:
        pass


main()
