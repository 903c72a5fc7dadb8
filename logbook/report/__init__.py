"""Paper: what a person takes to the visit, as a PDF.

ReportLab is used here and nowhere else. Figures come from `logbook.domain`, words from
`logbook.wording`; nothing here reads the store.
"""
