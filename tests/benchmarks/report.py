"""How long a report takes: 90 days, ten years, twenty years, and beside it a bare list of the same.

Run by hand: `python -m tests.benchmarks.report`. It prints seconds on the clock and of the
processor, and the ratio to a bare ReportLab canvas that prints the same values, day by day, as a
list. The ratio is what can be compared between machines. Data are invented; the log is not read.
"""

from __future__ import annotations

import gc
import resource
import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import partial
from io import BytesIO
from pathlib import Path

from reportlab.pdfgen.canvas import Canvas

from logbook.domain.moments import Period
from logbook.domain.series import Series
from logbook.domain.slots import Slot
from logbook.report.fonts import FIRST_FACES, registered_font
from logbook.report.visit import ReportOptions, visit_report
from tests.report.invented import FOUR_A_DAY, LAST_DAY, USUAL, invented_visit, long_series

ROOT = Path(__file__).parents[2]
FIVE_A_DAY = (*FOUR_A_DAY, Slot.AFTER_DINNER)

# Name, days, times of day; twenty years with ten readings a day are the most that is promised.
SIZES: tuple[tuple[str, int, Sequence[Slot]], ...] = (
    ("90 days", 90, FOUR_A_DAY),
    ("ten years", 3650, FIVE_A_DAY),
    ("twenty years", 7300, tuple(USUAL)),
)
TIMES = 3


@dataclass(frozen=True)
class Spent:
    """Seconds on the clock and of the processor."""

    clock: float
    processor: float


def best_of(work: Callable[[], object], times: int = TIMES) -> Spent:
    """The quickest of some runs: what else runs on the machine only ever adds time."""
    found = []
    for _run in range(times):
        gc.collect()
        start, used = time.perf_counter(), resource.getrusage(resource.RUSAGE_SELF).ru_utime
        work()
        found.append(
            Spent(
                time.perf_counter() - start,
                resource.getrusage(resource.RUSAGE_SELF).ru_utime - used,
            )
        )
    return min(found, key=lambda spent: spent.processor)


def bare_list(series: Series) -> bytes:
    """The same values as a list, a day a line, with drawString: what a first attempt would be."""
    registered_font(FIRST_FACES[0])
    buffer = BytesIO()
    canvas = Canvas(buffer, initialFontName=FIRST_FACES[0], initialFontSize=11)
    y, day_before = 740.0, -1
    x = 57.0
    for wall, steps in zip(series.wall_minutes, series.steps, strict=True):
        day = (wall - 240) // 1440
        if day != day_before:
            y, x, day_before = y - 15.4, 57.0, day
            if y < 60:
                canvas.showPage()
                canvas.setFont(FIRST_FACES[0], 11)
                y = 740.0
            canvas.drawString(x, y, (date(1970, 1, 1) + timedelta(days=day)).isoformat())
            x += 70
        canvas.drawString(x, y, str(steps))
        x += 38
    canvas.save()
    return buffer.getvalue()


def whole_process(days: int, slots: Sequence[Slot]) -> Spent:
    """A process of its own, imports and invention of the data included."""
    names = ", ".join(f"Slot.{slot.name}" for slot in slots)
    script = (
        "from dataclasses import replace\n"
        "from logbook.domain.moments import Period\n"
        "from logbook.domain.slots import Slot\n"
        "from logbook.report.visit import ReportOptions, visit_report\n"
        "from tests.report.invented import LAST_DAY, invented_visit, long_series\n"
        f"data = replace(invented_visit(), series=long_series({days}, [{names}]),\n"
        f"    period=Period.ending(LAST_DAY, {days}))\n"
        "visit_report(data, ReportOptions(grid_days=None))\n"
    )
    start, used = time.perf_counter(), resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime
    subprocess.run([sys.executable, "-c", script], cwd=ROOT, check=True)
    return Spent(
        time.perf_counter() - start,
        resource.getrusage(resource.RUSAGE_CHILDREN).ru_utime - used,
    )


def main() -> None:
    """Measure and print."""
    print("                 readings  report clock/cpu  bare list clock/cpu  ratio (cpu)  process")
    for name, days, slots in SIZES:
        series = long_series(days, slots)
        data = replace(invented_visit(), series=series, period=Period.ending(LAST_DAY, days))
        made = best_of(partial(visit_report, data, ReportOptions(grid_days=None)))
        bare = best_of(partial(bare_list, series))
        process = whole_process(days, slots)
        print(
            f"{name:<14} {len(series):>10,}  {made.clock:6.2f} / {made.processor:5.2f} s"
            f"   {bare.clock:7.2f} / {bare.processor:5.2f} s"
            f"   {made.processor / bare.processor:8.2f}"
            f"   {process.clock:5.2f} / {process.processor:5.2f} s"
        )


if __name__ == "__main__":
    main()
