"""The window: PySide6 and pyqtgraph, nowhere else. It shows what the domain says, decides nothing.

How a page is written:

    class Fingers(Page):
        name = "fingers"                    # its id, the same in every language
        sign = staticmethod(draw_fingers)   # drawn beside its word in the list at the left

        @staticmethod
        def label() -> str:                 # its word in the list; translated when it is asked for
            return _("Fingers")

        def __init__(self, desk: Desk) -> None:
            super().__init__(desk)
            self.title.say(_("Which finger is next?"))
            self.body.addWidget(Words(desk.look, _("...")))
            save = self.set_main_button(_("Save"), self._save)   # shown at the right of the bar

        def refresh(self, changed: Changed | None) -> None:
            ...                             # read the Book again and show it

`main_window.MainWindow` takes a list of page classes, in the order of the list at the left;
`app.py` names them, those that do not open at once as a `LaterPage`. A page that is not in the
list is not shown anywhere.

- `desk` has what a page works with: `book`, `now()` (a Moment), `today()` (the person's day),
  `look` (theme, text size, press guard), `work` (slow jobs), `preferences`, `say(text)` (a message
  in the bar that stays until the next action), `told(error)` (the same for a named error),
  `go_to(name)`.
- `refresh(changed)` is called before the page is shown first, after every change of the Book
  while it is shown (or when it is shown next), and with None when the person's day begins, on
  waking and when language or unit changed. `shown()` is called each time it comes up, `beat(now)`
  every few seconds while it is shown. `typed(event)` gets keys that no field wanted.
- All widgets come from `parts`: `Words`, `BigButton`, `FormRows`, `Choice`, `StateMark`; a page
  adds them to `self.body`, which scrolls by two big buttons when it is longer than the window.
- Writing: `desk.write(verb, *arguments)` calls a verb of the Book and returns its `Changed`, or
  tells what went wrong and returns None; what was typed stays.
- Connect bound methods of QObjects, never lambdas that hold a widget.
"""
