"""The demonstration log: an invented person's diary of five months, to look around in.

Nothing in it is taken from anyone: the person, the places and the story are made up (`story`), the
numbers come from a small random model of our own (`values`), and every day is the same for the same
date (`diary`). `making` writes it through the Book, as a person would have.
"""
