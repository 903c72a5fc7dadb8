"""The catalogue of sentences: collected from the source, compiled for use.

`python -m logbook.wording.catalogue`, run in a source tree after sentences were added or changed,
writes the template, brings every language's catalogue up to it and compiles it. With `--check` it
writes nothing and says what is out of date. What a sentence may look like is the tests' concern.
"""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path

from babel.messages.catalog import Catalog, Message
from babel.messages.extract import extract_from_dir
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po, write_po

import logbook
from logbook.wording import DOMAIN

PACKAGE = Path(logbook.__file__).resolve().parent
LOCALE = PACKAGE.parent / "resources" / "locale"

# What marks a sentence in the source, and which of its arguments are sentences.
KEYWORDS: dict[str, tuple[int | tuple[int, str], ...] | None] = {
    "_": None,
    "mark": None,
    "ngettext": (1, 2),
    "pgettext": ((1, "c"), 2),
}

_PLACEHOLDER = re.compile(r"\{(\w*)\}")


class PlainCatalog(Catalog):
    """A catalogue whose header holds no date and no tool's name: the same source, the same file."""

    @property
    def mime_headers(self) -> list[tuple[str, str]]:
        """The header's lines, without those that change by themselves or were never filled in."""
        return [
            (name, value)
            for name, value in super().mime_headers
            if not name.endswith("-Date") and name != "Generated-By" and "@" not in value
        ]


def extract(package: Path = PACKAGE) -> Catalog:
    """Every sentence in the source of `package`, with the files it stands in."""
    catalog = PlainCatalog(
        project="Fingerstick Logbook",
        version=logbook.__version__,
        header_comment="# Sentences of Fingerstick Logbook, collected from its source.",
        fuzzy=False,
    )
    found = extract_from_dir(
        package,
        method_map=[("**.py", "python")],
        keywords=KEYWORDS,
        comment_tags=("Translators:",),
        strip_comment_tags=True,
    )
    for name, line, message, comments, context in sorted(found, key=lambda each: each[:2]):
        catalog.add(
            message,
            locations=[(f"{package.name}/{name}", line)],
            auto_comments=comments,
            context=context,
        )
    return catalog


def sentences_of(message: Message) -> tuple[str, ...]:
    """The one text of a message, or its singular and plural."""
    return _texts(message.id)


def placeholders_of(text: str) -> set[str]:
    """The names in braces that a sentence is filled with."""
    return set(_PLACEHOLDER.findall(text))


def untrue_translations(catalog: Catalog) -> Iterator[str]:
    """The source texts whose translation is filled with other names; such a one is never compiled.

    It would stop the program at the moment it is to be shown.
    """
    for message in catalog:
        wanted = set[str]().union(*map(placeholders_of, sentences_of(message)))
        for string in _texts(message.string):
            # A plural form may leave the number out ("one day").
            missing = wanted ^ placeholders_of(string)
            if message.id and string and not missing <= {"n"}:
                yield sentences_of(message)[0]


def files_of(package: Path = PACKAGE, locale: Path = LOCALE) -> dict[Path, bytes]:
    """What every file of the catalogue should hold: template, and two for each language."""
    template = extract(package)
    files = {locale / f"{DOMAIN}.pot": _po_bytes(template)}
    for po in sorted(locale.glob(f"*/LC_MESSAGES/{DOMAIN}.po")):
        catalog = _catalogue(po, template)
        files[po] = _po_bytes(catalog)
        files[po.with_suffix(".mo")] = _mo_bytes(catalog)
    return files


def _catalogue(po: Path, template: Catalog) -> PlainCatalog:
    language = po.parent.parent.name
    catalog = PlainCatalog(
        language,
        project=template.project,
        version=template.version,
        header_comment=f"# Sentences of {template.project}, language: {language}.",
        fuzzy=False,
    )
    with po.open("rb") as file:
        for message in read_po(file, locale=language, domain=DOMAIN):
            if message.id:
                catalog[message.id] = message
    catalog.update(template, no_fuzzy_matching=True, update_header_comment=False)
    return catalog


def main(arguments: list[str]) -> int:
    """Write the catalogue's files, or with `--check` say which of them are out of date."""
    files = files_of()
    stale = [path for path, content in files.items() if _content(path) != content]
    verb = "out of date" if arguments == ["--check"] else "written"
    for path in stale:
        if arguments != ["--check"]:
            path.write_bytes(files[path])
        sys.stdout.write(f"{verb}: {path.relative_to(LOCALE.parent.parent)}\n")
    return 1 if stale and arguments == ["--check"] else 0


def _texts(of: object) -> tuple[str, ...]:
    return tuple(map(str, of)) if isinstance(of, tuple | list) else (str(of or ""),)


def _content(path: Path) -> bytes | None:
    return path.read_bytes() if path.is_file() else None


def _po_bytes(catalog: Catalog) -> bytes:
    written = BytesIO()
    # Line numbers would change with every edit of the source.
    write_po(written, catalog, width=100, sort_output=True, include_lineno=False)
    return written.getvalue()


def _mo_bytes(catalog: Catalog) -> bytes:
    # Left to itself, Babel compiles untranslated plurals as copies of the source, which would go
    # on being shown after the source has changed.
    untrue = set(untrue_translations(catalog))
    for message in list(catalog):
        is_untranslated = not all(_texts(message.string))
        if message.id and (is_untranslated or sentences_of(message)[0] in untrue):
            catalog.delete(message.id, message.context)
    compiled = BytesIO()
    write_mo(compiled, catalog)
    return compiled.getvalue()


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
