"""Locked copies: the published format, what opens them and what does not, and safe writing.

The format is checked against the text of the age specification, version 1 (C2SP, read from memory):
its first line, the scrypt stanza with 16 bytes of salt, and a header that ends with its MAC; and
the header's key and MAC are computed again here with the standard library's scrypt and HMAC.
"""

from __future__ import annotations

import base64
import hashlib
import hmac
from pathlib import Path

import pytest
from cryptography.hazmat.primitives.ciphers.aead import ChaCha20Poly1305

from logbook.domain.errors import CannotRead, CannotWrite, WrongPhrase
from logbook.exchange import locked_copy
from logbook.exchange.locked_copy import is_locked, lock, save_locked, unlock, unlocked
from logbook.exchange.phrases import make_phrase, phrase_of, phrase_words

PHRASE = "acorn bridge candle dolphin eagle fiddle garden"
CONTENT = bytes(range(256)) * 1_000  # more than three of the format's chunks of 64 KiB


@pytest.fixture(scope="module")
def locked() -> bytes:
    return lock(CONTENT, PHRASE)


def _unpadded(text: bytes) -> bytes:
    return base64.b64decode(text + b"=" * (-len(text) % 4))


def _hkdf(key: bytes, salt: bytes, info: bytes) -> bytes:
    """RFC 5869 with SHA-256, one block."""
    extracted = hmac.digest(salt or bytes(32), key, "sha256")
    return hmac.digest(extracted, info + b"\x01", "sha256")


def test_it_is_the_published_format(locked: bytes) -> None:
    """Opened here by the steps of the specification, without the library that made it."""
    header, mac, rest = (
        locked.partition(b"\n--- ")[0],
        *locked.partition(b"\n--- ")[2].split(b"\n", 1),
    )
    version, stanza, wrapped = header.split(b"\n")
    assert version == b"age-encryption.org/v1"
    name, salt, factor = stanza.removeprefix(b"-> ").split(b" ")
    assert name == b"scrypt"
    assert int(factor) >= 15
    key = hashlib.scrypt(
        PHRASE.encode(),
        salt=b"age-encryption.org/v1/scrypt" + _unpadded(salt),
        n=2 ** int(factor),
        r=8,
        p=1,
        maxmem=2**31 - 1,
        dklen=32,
    )
    file_key = ChaCha20Poly1305(key).decrypt(bytes(12), _unpadded(wrapped), None)
    expected = hmac.digest(_hkdf(file_key, b"", b"header"), header + b"\n---", "sha256")
    assert _unpadded(mac) == expected
    nonce, sealed = rest[:16], rest[16:]
    payload = ChaCha20Poly1305(_hkdf(file_key, nonce, b"payload"))
    found, size = b"", 64 * 1024 + 16
    chunks = [sealed[at : at + size] for at in range(0, len(sealed), size)]
    for number, chunk in enumerate(chunks):
        is_last = number == len(chunks) - 1
        found += payload.decrypt(number.to_bytes(11) + bytes([is_last]), chunk, None)
    assert found == CONTENT


def test_nothing_of_it_can_be_read_without_the_words(locked: bytes) -> None:
    assert CONTENT[:64] not in locked
    assert lock(b"the same", PHRASE) != lock(b"the same", PHRASE)


def test_it_opens_with_its_words_and_with_no_others(locked: bytes, tmp_path: Path) -> None:
    file = tmp_path / "a.logbook.age"
    file.write_bytes(locked)
    assert is_locked(file)
    assert unlock(file, PHRASE) == CONTENT
    with pytest.raises(WrongPhrase):
        unlock(file, PHRASE + " harp")
    with unlocked(file, PHRASE) as opened:
        assert opened.name == "a.logbook"
        assert opened.read_bytes() == CONTENT
        assert opened.parent.stat().st_mode & 0o777 == 0o700
        assert opened.stat().st_mode & 0o777 == 0o600
    assert not opened.parent.exists()


@pytest.mark.parametrize(
    "fault", ["cut in the header", "cut", "cut at a chunk", "flipped", "longer"]
)
def test_a_damaged_one_is_told_from_wrong_words(fault: str, locked: bytes, tmp_path: Path) -> None:
    start = locked.index(b"\n--- ") + 49 + 16
    damaged = {
        "cut in the header": locked[:100],
        "cut": locked[:-7],
        "cut at a chunk": locked[: start + 64 * 1024 + 16],
        "flipped": locked[:90_000] + bytes([locked[90_000] ^ 1]) + locked[90_001:],
        "longer": locked + b"\0",
    }[fault]
    file = tmp_path / "a.logbook.age"
    file.write_bytes(damaged)
    with pytest.raises(CannotRead) as told:
        unlock(file, PHRASE)
    assert told.value.facts["why"] == "locked_damaged"


def test_a_file_that_is_not_locked_is_known(tmp_path: Path) -> None:
    plain = tmp_path / "a.logbook"
    plain.write_bytes(b"SQLite format 3\0")
    assert not is_locked(plain)
    assert not is_locked(tmp_path / "none")
    assert not is_locked(tmp_path)


def test_it_is_read_back_before_it_is_done(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    copy, out = tmp_path / "a.logbook", tmp_path / "a.logbook.age"
    copy.write_bytes(CONTENT)
    save_locked(copy, out, PHRASE)
    assert unlock(out, PHRASE) == CONTENT
    assert out.stat().st_mode & 0o777 == 0o600
    with pytest.raises(CannotWrite) as told:
        save_locked(copy, out, PHRASE)
    assert told.value.facts["why"] == "exists"

    # A stick that keeps something else than it was given: the negative control of reading back.
    def keeps_less(path: Path, content: bytes) -> None:
        path.write_bytes(content[:-1])

    other = tmp_path / "other.age"
    monkeypatch.setattr(locked_copy, "write_whole", keeps_less)
    with pytest.raises(CannotWrite) as told:
        save_locked(copy, other, PHRASE)
    assert told.value.facts["why"] == "read_back"
    assert not other.exists()


# --- the words -----------------------------------------------------------------------------------


def _is_near(one: str, other: str) -> bool:
    """One letter more, less or other, or two neighbours changed over."""
    shorter, longer = sorted((one, other), key=len)
    if len(shorter) == len(longer):
        differing = [n for n, pair in enumerate(zip(one, other, strict=True)) if len(set(pair)) > 1]
        if len(differing) == 2 and differing[1] == differing[0] + 1:
            first = differing[0]
            return one[first : first + 2] == other[first : first + 2][::-1]
        return len(differing) <= 1
    if len(longer) - len(shorter) > 1:
        return False
    return any(longer[:n] + longer[n + 1 :] == shorter for n in range(len(longer)))


def test_words_are_many_short_and_not_alike() -> None:
    words = phrase_words()
    assert len(words) == len(set(words)) == 1024
    assert list(words) == sorted(words)
    assert all(word.isascii() and word.islower() and 4 <= len(word) <= 8 for word in words)
    assert len({word[:4] for word in words}) == len(words)
    by_length: dict[int, list[str]] = {}
    for word in words:
        by_length.setdefault(len(word), []).append(word)
    for word in words:
        for length in (len(word), len(word) + 1):
            near = [o for o in by_length.get(length, []) if o != word and _is_near(word, o)]
            assert not near, (word, near)
    assert _is_near("maple", "male")
    assert _is_near("form", "from")


def test_phrases_are_drawn_from_all_words() -> None:
    phrases = {make_phrase(7) for _number in range(300)}
    assert len(phrases) == 300
    drawn = {word for phrase in phrases for word in phrase.split(" ")}
    # Of 1,024 words 2,100 draws leave out about 1024 * exp(-2100/1024) = 132; 250 would be chance
    # in no life.
    assert len(drawn) > 1024 - 250
    assert drawn <= set(phrase_words())


@pytest.mark.parametrize(
    "typed",
    [
        PHRASE,
        PHRASE.upper(),
        "  " + PHRASE.replace(" ", "   ") + "\n",
        PHRASE.replace(" ", "-"),
        "1. acorn 2. bridge 3. candle 4. dolphin 5. eagle 6. fiddle 7. garden",
        "acorn,bridge;candle dolphin\neagle fiddle garden.",
    ],
)
def test_typed_in_many_ways(typed: str) -> None:
    assert phrase_of(typed, 7) == PHRASE


@pytest.mark.parametrize(
    ("typed", "why", "word", "like"),
    [
        ("", "empty", "", ""),
        (" . 7 ", "empty", "", ""),
        ("acorn bridges candle dolphin eagle fiddle garden", "unknown_word", "bridges", "bridge"),
        ("acorn xyz", "unknown_word", "xyz", ""),
        ("acorn bridge", "word_count", "acorn bridge", ""),
    ],
)
def test_mistyped_words_are_told_before_they_are_tried(
    typed: str, why: str, word: str, like: str
) -> None:
    with pytest.raises(WrongPhrase) as told:
        phrase_of(typed, 7)
    assert told.value.facts["why"] == why
    assert told.value.subject == word
    assert told.value.facts.get("like", "") == like
