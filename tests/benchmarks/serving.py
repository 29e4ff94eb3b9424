"""The service: its first page after the command, the results page beyond the computing, thirty clients at once, memory."""

import http.client
import json
import re
import resource
import statistics
import subprocess
import sys
import threading
import time
from pathlib import Path
from urllib.parse import urlencode

from tests.benchmarks.computing import new_place
from tests.benchmarks.figures import Figure, seconds

ROOT = Path(__file__).resolve().parents[2]
CLIENTS = 30
REQUESTS = 4
"""Of each client, one after the other."""


def ask(port: int, method: str, address: str, body: bytes | None = None) -> tuple[int, bytes]:
    """One request over a connection of its own."""
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
    try:
        headers = {"content-type": "application/json"} if body is not None else {}
        connection.request(method, address, body, headers)
        answer = connection.getresponse()
        return answer.status, answer.read()
    finally:
        connection.close()


def started(workers: int) -> tuple[subprocess.Popen[str], int, float]:
    """The service as its command starts it: process, port, and the time until its first page was whole [s]."""
    start = time.perf_counter()
    command = [sys.executable, "-m", "api.command.main", "serve", "--port", "0", "--workers", str(workers)]
    process = subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True)
    assert process.stdout is not None
    found = re.search(r":(\d+)/", process.stdout.readline())
    if found is None:
        process.kill()
        raise RuntimeError("the service did not say its address")
    status, _ = ask(int(found[1]), "GET", "/")
    assert status == 200, status
    return process, int(found[1]), time.perf_counter() - start


def wait_until_ready(port: int) -> None:
    """Until the service has said twenty times running, whichever process answered, that it is ready to compute."""
    running, end = 0, time.monotonic() + 60
    while running < 20:
        if time.monotonic() > end:
            raise RuntimeError("the service was not ready within a minute")
        running = running + 1 if ask(port, "GET", "/readyz")[0] == 200 else 0
        time.sleep(0.05)


def results_page(port: int, repeats: int = 15) -> list[Figure]:
    """The results page of new designs: its charts and its printing, and the whole over HTTP less the bare sizing."""
    from sizing.report.report import Report, size
    from sizing.report.what_if import WhatIf, what_ifs
    from web.forms.form import Texts, texts_of, understand
    from web.pages.frame.site import page
    from web.pages.results.results_page import results_content

    beyond, over_http, sizes = [], [], []
    for _ in range(repeats + 1):
        texts = texts_of(new_place())
        answers: list[tuple[int, bytes]] = []
        address = "/results?" + urlencode(texts)
        whole = seconds(lambda address=address, answers=answers: answers.append(ask(port, "GET", address)))
        reading = seconds(lambda texts=texts: understand(texts))
        design = understand(texts).design
        computing = seconds(lambda design=design: what_ifs(size(design)))
        report = size(design)
        changes = what_ifs(report)

        def printing(report: Report = report, texts: Texts = texts, changes: tuple[WhatIf, ...] = changes) -> None:
            page("results.html", current="/", **results_content(report, texts, "", changes))

        beyond.append(reading + seconds(printing))
        status, content = answers[0]
        assert status == 200, status
        assert b"<svg" in content
        over_http.append(whole - computing)
        sizes.append(len(content))
    extra, largest = statistics.median(beyond[1:]), max(sizes)
    return [
        Figure("results page with its charts beyond the computing", f"{1e3 * extra:.1f} ms", "15 ms", extra <= 0.015),
        Figure("  and its bytes", f"{largest / 1024:.0f} KiB", "150 KB", largest <= 150_000),
        Figure("  the same over HTTP, with connection and log", f"{1e3 * statistics.median(over_http[1:]):.1f} ms", "", None),
    ]


def crowd(port: int) -> list[Figure]:
    """Thirty clients, each sizing new designs one after the other, while the health of the service is asked."""
    bodies = [
        [json.dumps(new_place().model_dump(mode="json", exclude_unset=True)).encode() for _ in range(REQUESTS)]
        for _ in range(CLIENTS)
    ]
    times: list[float] = []
    lost: list[int] = []
    health: list[float] = []
    over = threading.Event()

    def client(own: list[bytes]) -> None:
        for body in own:
            start = time.perf_counter()
            try:
                status = ask(port, "POST", "/api/v1/sizings", body)[0]
            except OSError:
                status = 0
            times.append(time.perf_counter() - start)
            if status != 200:
                lost.append(status)

    def watch_health() -> None:
        while not over.is_set():
            health.append(seconds(lambda: ask(port, "GET", "/healthz")))
            time.sleep(0.02)

    watching = threading.Thread(target=watch_health)
    threads = [threading.Thread(target=client, args=(own,)) for own in bodies]
    watching.start()
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    over.set()
    watching.join()
    late, health_late = quantile(times, 0.95), quantile(health, 0.95)
    return [
        Figure(
            f"{CLIENTS} clients at once, 2 processes, {CLIENTS * REQUESTS} sizings, 95 % within",
            f"{late:.2f} s",
            "1 s",
            late <= 1.0,
        ),
        Figure("  lost", str(len(lost)), "0", not lost),
        Figure("  health answers, 95 % within", f"{1e3 * health_late:.0f} ms", "50 ms", health_late <= 0.05),
    ]


def quantile(values: list[float], share: float) -> float:
    return sorted(values)[min(int(share * len(values)), len(values) - 1)]


def served() -> list[Figure]:
    """All rows that need the service running: as its command starts it, then with a process for each of two cores."""
    process, port, first = started(1)
    try:
        wait_until_ready(port)
        figures = [Figure("start, from the command to the whole first page", f"{first:.1f} s", "3 s", first <= 3.0)]
        figures += results_page(port)
    finally:
        stop(process)
    process, port, _ = started(2)
    try:
        wait_until_ready(port)
        figures += crowd(port)
        memory = largest_process(process.pid)
    finally:
        stop(process)
    figures.append(Figure("memory of the largest process of the service", f"{memory:.0f} MiB", "250 MiB", memory <= 250))
    return figures


def largest_process(parent: int) -> float:
    """Most memory that a process and its children have held, the largest of them [MiB].

    Linux tells it of each process that runs. Elsewhere the largest child that has ended counts, which may have inherited what
    this process held when it was started.
    """
    tasks = Path(f"/proc/{parent}/task/{parent}/children")
    if not tasks.exists():
        return resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024
    statuses = [Path(f"/proc/{pid}/status").read_text() for pid in (str(parent), *tasks.read_text().split())]
    return max(int(re.search(r"VmHWM:\s+(\d+) kB", status)[1]) / 1024 for status in statuses)  # type: ignore[index]


def stop(process: subprocess.Popen[str]) -> None:
    """End the service, and wait until it has ended."""
    process.terminate()
    process.wait(20)
