"""Spreadsheets for tests, written by others: openpyxl for .xlsx, odfpy for .ods.

Rows hold texts, numbers, dates, times and datetimes, or None for an empty cell.
"""

import zipfile
from collections.abc import Sequence
from datetime import date, datetime, time
from pathlib import Path

import openpyxl
from odf.opendocument import OpenDocumentSpreadsheet
from odf.table import Table, TableCell, TableRow
from odf.text import P

Rows = Sequence[Sequence[object]]


def write_xlsx(path: Path, sheets: dict[str, Rows]) -> Path:
    book = openpyxl.Workbook()
    book.remove(book.worksheets[0])
    for name, rows in sheets.items():
        sheet = book.create_sheet(name)
        for row in rows:
            sheet.append(list(row))
    book.save(path)
    return path


def write_ods(path: Path, sheets: dict[str, Rows]) -> Path:
    document = OpenDocumentSpreadsheet()
    for name, rows in sheets.items():
        table = Table(name=name)
        for row in rows:
            line = TableRow()
            for cell in row:
                line.addElement(_cell(cell))
            table.addElement(line)
        document.spreadsheet.addElement(table)
    document.save(str(path))
    return path


def _cell(value: object) -> TableCell:
    if value is None:
        return TableCell()
    if isinstance(value, datetime):
        return TableCell(valuetype="date", datevalue=value.isoformat())
    if isinstance(value, date):
        return TableCell(valuetype="date", datevalue=value.isoformat())
    if isinstance(value, time):
        return TableCell(valuetype="time", timevalue=f"PT{value:%H}H{value:%M}M{value:%S}S")
    if isinstance(value, int | float):
        return TableCell(valuetype="float", value=value)
    cell = TableCell(valuetype="string")
    for line in str(value).split("\n"):
        cell.addElement(P(text=line))
    return cell


ODS_HEAD = (
    '<?xml version="1.0" encoding="UTF-8"?>{prologue}<office:document-content '
    'xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" '
    'xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" '
    'xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0">'
    '<office:body><office:spreadsheet><table:table table:name="one">'
)
ODS_END = "</table:table></office:spreadsheet></office:body></office:document-content>"


def write_bare_ods(path: Path, rows: str, prologue: str = "") -> Path:
    """An .ods file with rows as XML, as no program would write them."""
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as file:
        file.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
        file.writestr("content.xml", ODS_HEAD.format(prologue=prologue) + rows + ODS_END)
    return path
