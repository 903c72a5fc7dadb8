"""The steps of writing a reading down; `pages.write_down` says which is shown."""
