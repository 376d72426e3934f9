"""Serves a folder on this machine alone: python3 web/serve.py PORT FOLDER.

PORT 0 takes any free port. Another port that is taken gives way to the next
free one. The address is the first line printed. Headers are those of the
folder's `_headers`, but for caching: a rebuilt page must never meet an old part
of itself. Text and wasm go out packed, as from a host: by brotli where the build
left such a copy beside the file, else by gzip.
"""

import fnmatch
import functools
import gzip
import http.server
import io
import pathlib
import sys

TRIES = 100
PACKED = {".css", ".html", ".js", ".json", ".mjs", ".svg", ".wasm", ".webmanifest"}


def read_rules(folder):
    """The blocks of `_headers`: a list of (pattern, [(name, value)])."""
    file = pathlib.Path(folder, "_headers")
    rules = []
    for line in file.read_text(encoding="utf-8").splitlines() if file.exists() else []:
        if not line.strip() or line.lstrip().startswith("#"):
            continue
        if not line[0].isspace():
            rules.append((line.strip(), []))
        elif rules:
            name, _, value = line.partition(":")
            rules[-1][1].append((name.strip(), value.strip()))
    return rules


@functools.lru_cache(maxsize=64)
def gzipped(file, _changed):
    """A file's content gzipped; `_changed`, its time of change, keeps a rebuilt file from being answered by its old self."""
    return gzip.compress(file.read_bytes(), compresslevel=6)


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

    rules = ()

    def send_head(self):
        file = pathlib.Path(self.translate_path(self.path))
        if self.path.partition("?")[0].endswith("/"):
            file /= "index.html"
        if not (file.suffix in PACKED and file.is_file() and "Range" not in self.headers):
            return super().send_head()
        encoding, body = self.packed(file)
        if not encoding:
            return super().send_head()
        self.send_response(http.HTTPStatus.OK)
        self.send_header("Content-Type", self.guess_type(str(file)))
        self.send_header("Content-Encoding", encoding)
        self.send_header("Vary", "Accept-Encoding")
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        return io.BytesIO(body)

    def packed(self, file):
        """How a file goes out and as what: brotli, gzip or, to a client that takes neither, None."""
        takes = self.headers.get("Accept-Encoding", "")
        copy = file.with_name(file.name + ".br")
        # A copy older than its file was made of something else.
        if "br" in takes and copy.is_file() and copy.stat().st_mtime_ns >= file.stat().st_mtime_ns:
            return "br", copy.read_bytes()
        if "gzip" in takes:
            return "gzip", gzipped(file, file.stat().st_mtime_ns)
        return None, b""

    def end_headers(self):
        self.send_header("Cache-Control", "no-store")
        path = self.path.partition("?")[0].partition("#")[0]
        for pattern, headers in self.rules:
            if fnmatch.fnmatchcase(path, pattern):
                for name, value in headers:
                    if name.lower() != "cache-control":
                        self.send_header(name, value)
        super().end_headers()

    def log_request(self, code="-", size="-"):
        """Says nothing: errors print their own line."""


class Server(http.server.ThreadingHTTPServer):
    # A browser asks for a page's parts all at once: on a busy machine more wait than the usual five.
    request_queue_size = 64

    def handle_error(self, request, client_address):
        # A browser that leaves a page drops what it had asked for: nothing is wrong.
        if not isinstance(sys.exc_info()[1], ConnectionError):
            super().handle_error(request, client_address)


def listen(port, folder):
    Handler.rules = read_rules(folder)
    handler = functools.partial(Handler, directory=folder)
    last = port if port == 0 else min(port + TRIES, 65535)
    for candidate in range(port, last + 1):
        try:
            return Server(("127.0.0.1", candidate), handler)
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
