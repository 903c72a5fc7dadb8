"""The guard against shaking hands: which presses count.

A press on anything that writes or turns a page is ignored within 500 ms of the last such press,
wherever that was, because a page may have turned under the finger. Times are those of the events,
so a busy machine that hands them over late changes nothing.
"""

from __future__ import annotations

BOUNCE_MILLISECONDS = 500
# A digit may be wanted twice (100, 122), so only a key's own bounce is kept out.
KEY_BOUNCE_MILLISECONDS = 80
# A press held longer is a resting hand, not a decision. Judgement without a source.
LONG_PRESS_MILLISECONDS = 2000


class PressGuard:
    """Tells which presses count. A time of 0 means that the platform told none: it counts."""

    def __init__(self) -> None:
        self._last: int | None = None
        self._last_key = ""
        self._key_released = 0

    def admits(self, milliseconds: int) -> bool:
        """Whether a press at this event time counts; it is the last one from now on."""
        if milliseconds == 0:
            return True
        last, self._last = self._last, milliseconds
        # Event times wrap around after 49 days: a step back is no bounce.
        return last is None or not 0 <= milliseconds - last < BOUNCE_MILLISECONDS

    def admits_key(self, key: str, milliseconds: int) -> bool:
        """Whether a press on a digit key counts: it began 80 ms after that key was let go.

        Another key in between means that the finger had left it: a quick 1 3 1 is no bounce.
        """
        if milliseconds == 0 or key != self._last_key:
            return True
        return not 0 <= milliseconds - self._key_released < KEY_BOUNCE_MILLISECONDS

    def key_released(self, key: str, milliseconds: int) -> None:
        """A digit key was let go, whether or not its press counted."""
        if milliseconds:
            self._last_key, self._key_released = key, milliseconds


def is_long(pressed: int, released: int) -> bool:
    """Whether a press between these event times was held too long to be meant."""
    return 0 < pressed < released and released - pressed > LONG_PRESS_MILLISECONDS
