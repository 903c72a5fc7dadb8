"""What waits about the log itself: damage that was found, and a copy elsewhere that is too old."""

from __future__ import annotations

from uuid import NAMESPACE_URL, uuid5

from logbook.domain.moments import Moment
from logbook.ui.desk import Desk
from logbook.ui.entry.notices import Answered, Notice
from logbook.wording import _
from logbook.wording.copies import damage_details, damage_title, overdue_text

PAGE = "my_plan"
# They are about no record; each has an id of its own, so that notices can be told apart.
_DAMAGE = uuid5(NAMESPACE_URL, "logbook:damage")
_STICK = uuid5(NAMESPACE_URL, "logbook:second-folder")


def copies_notices(desk: Desk, now: Moment) -> tuple[Notice, ...]:
    """Nothing on a day for which *Not today* was pressed, nor where nothing can be written."""
    is_put_off = desk.preferences.copies_not_asked_on == desk.today().isoformat()
    if PAGE not in desk.page_names or is_put_off:
        return ()
    later = (Answered.COPIES_LATER, _("Not today"))
    found = []
    if desk.damage is not None:
        found.append(
            Notice(
                short=damage_title(),
                text=damage_title(),
                details=tuple(damage_details(desk.damage)),
                about=_DAMAGE,
                choices=((Answered.DO_IT, _("Show the copies")), later),
                place=f"{PAGE}/copies",
            )
        )
    known = desk.book.second_folder()
    if known is not None and known.is_overdue(now.instant) and desk.only_read_because is None:
        text = overdue_text(known, now)
        found.append(
            Notice(
                short=text,
                text=text,
                details=(_("Plug the stick in, then make a copy there."),),
                about=_STICK,
                choices=((Answered.DO_IT, _("Make a copy there")), later),
                place=f"{PAGE}/stick",
            )
        )
    return tuple(found)
