"""Other people's formats, one module per format.

Reading returns what could be taken in and every line that could not, with its reason. Nothing here
touches a log, so nothing can be half-written: keeping the readings is the Book's work.
"""
