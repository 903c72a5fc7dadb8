"""What each command does and prints, without arguments, clock or exit status.

`logbook.cli` reads the arguments, asks the clock and tells failures in words; each module here is a
few lines over book, exchange and report.
"""
