"""The plan: when to check, agreed with the provider, and what follows from it for a day.

`plans` holds what is kept; what is due and what was done is told by other modules here. No
sentences for the person and no clock.
"""
