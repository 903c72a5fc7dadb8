"""The trade: what a reading is, which finger is next, what repeats.

Standard library and dateutil only: no window, no database, no files, no clock (time is passed in)
and no sentences.
"""
