"""Every sentence, number and date a person reads, for window, paper and commands alike.

The sentences are English in the source and go through one gettext catalogue, `logbook`, below
`resources/locale`. Nothing is translated when a module is imported: a text that must stand in a
table is wrapped in `mark` there and in `_` where it is used. What a word means, and when a sentence
is due, is the domain's.
"""

from __future__ import annotations

import gettext as _gettext
import struct
from dataclasses import replace

from logbook.resources import resource_path
from logbook.wording.manner import SOURCE_LANGUAGE, find_locale, manner, set_manner

DOMAIN = "logbook"

_SOURCE = _gettext.NullTranslations()
_translations: _gettext.NullTranslations = _SOURCE


def _(message: str) -> str:
    """The translation of a sentence, or the sentence itself."""
    # The empty text is the catalogue's own header.
    return _translations.gettext(message) if message else ""


def ngettext(singular: str, plural: str, count: int) -> str:
    """The form for `count`: `ngettext("{n} day", "{n} days", n).format(n=n)`."""
    return _translations.ngettext(singular, plural, count)


def pgettext(context: str, message: str) -> str:
    """The translation of a word that means different things in different places."""
    return _translations.pgettext(context, message)


def mark(message: str) -> str:
    """The text as it is, noted for the catalogue; give it to `_` when a person is to read it."""
    return message


def set_language(tag: str) -> str:
    """Speak the language of `tag` ("en", "en_GB", "de-CH") from now on.

    Numbers, dates and clock follow the same tag. Without a readable catalogue the sentences are
    English, and then so are the names of months, in the manner of the tag's country. Returns the
    language that it became ("en").
    """
    global _translations  # noqa: PLW0603  (one language at a time, as the screen has one reader)
    wanted = find_locale(tag)
    _translations = _find_translations(str(wanted))
    if _translations is not _SOURCE:
        locale = str(wanted)
    else:
        locale = f"{SOURCE_LANGUAGE}_{wanted.territory}" if wanted.territory else SOURCE_LANGUAGE
    set_manner(replace(manner(), locale=str(find_locale(locale))))
    return find_locale(locale).language


def _find_translations(tag: str) -> _gettext.NullTranslations:
    try:
        return _gettext.translation(DOMAIN, resource_path("locale"), [tag])
    except (OSError, ValueError, struct.error):  # none, or one that is damaged
        return _SOURCE
