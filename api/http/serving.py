"""Run the service on this computer: find the port free, start, and say the address once it answers."""

import http.client
import socket
import threading
import time
import webbrowser

import uvicorn

SETTINGS = {
    "factory": True,
    "limit_concurrency": 200,
    "timeout_keep_alive": 5,
    "timeout_graceful_shutdown": 10,
    "server_header": False,
    "access_log": False,
    "proxy_headers": False,
    "log_level": "warning",
}
"""The connection limit is a backstop only: ``limits.InFlight`` refuses with a sentence long before."""
MOST_WORKERS = 16
EVERYWHERE = {"0.0.0.0": "127.0.0.1", "::": "::1", "": "127.0.0.1"}
PATIENCE = 60.0
"""[s]"""


class ServingError(Exception):
    """The service cannot run there; the message is one sentence for the person who asked."""


def serve(host: str, port: str, workers: str, open_browser: bool) -> None:
    """Serve until stopped.

    Raises
    ------
    ServingError
        if the address, the port or the number of workers cannot be used.
    """
    count = whole("workers", workers, 1, MOST_WORKERS)
    number = free_port(host, whole("port", port, 0, 65535))
    threading.Thread(target=announce, args=(host, number, open_browser), daemon=True).start()
    if count > 1:
        uvicorn.run("api.http.app:create_app", host=host, port=number, workers=count, **SETTINGS)  # type: ignore[arg-type]
    else:
        uvicorn.Server(uvicorn.Config("api.http.app:create_app", host=host, port=number, **SETTINGS)).run()  # type: ignore[arg-type]


def whole(name: str, text: str, low: int, high: int) -> int:
    """An option as a whole number between its limits."""
    if text.isascii() and text.isdigit() and len(text) <= 6 and low <= int(text) <= high:
        return int(text)
    raise ServingError(f"--{name} must be a whole number between {low} and {high}; write one, or leave it out")


def free_port(host: str, port: int) -> int:
    """The port, if nothing listens there; for 0 one that is free."""
    try:
        family, kind, protocol, _, address = socket.getaddrinfo(host or None, port, type=socket.SOCK_STREAM)[0]
        with socket.socket(family, kind, protocol) as trial:
            trial.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            trial.bind(address)
            return int(trial.getsockname()[1])
    except PermissionError:
        raise ServingError(f"port {port} needs an administrator; choose one above 1023, as in --port 8000") from None
    except (socket.gaierror, UnicodeError):
        raise ServingError("--host is not an address of this computer; leave it out, or write 0.0.0.0 to let others in") from None
    except OSError as error:
        if error.errno in (99, 10049):  # the address belongs to another computer (Linux, Windows)
            raise ServingError(
                "--host is not an address of this computer; leave it out, or write 0.0.0.0 to let others in"
            ) from None
        raise ServingError(f"port {port} is in use; stop what uses it, or choose another, as in --port {port + 1}") from None


def announce(host: str, port: int, open_browser: bool) -> None:
    """Print the address as soon as the service answers there."""
    end = time.monotonic() + PATIENCE
    while not answers(EVERYWHERE.get(host, host), port):
        if time.monotonic() > end:
            return
        time.sleep(0.05)
    name = EVERYWHERE.get(host, host)
    address = f"http://{f'[{name}]' if ':' in name else name}:{port}/"
    print(f"Solar fountain sizing is at {address} (Ctrl+C stops it)", flush=True)
    if open_browser:
        webbrowser.open(address)


def answers(host: str, port: int) -> bool:
    """Whether the service says that it is alive."""
    connection = http.client.HTTPConnection(host, port, timeout=5)
    try:
        connection.request("GET", "/healthz")
        return connection.getresponse().status == 200
    except (OSError, http.client.HTTPException):
        return False
    finally:
        connection.close()
