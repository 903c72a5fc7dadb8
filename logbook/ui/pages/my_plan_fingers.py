"""A view of *My plan*: which fingers are pricked, in what order, how long a lancet is used."""

from __future__ import annotations

from logbook.book import Changed
from logbook.domain.kit.lancets import LancetHabit
from logbook.domain.settings import HandsPricked, RotationHabit
from logbook.domain.sites import FINGERS, OTHER_PLACES, Hand
from logbook.ui.pages.my_plan_settings import SettingsView
from logbook.ui.parts.view_page import ViewPage
from logbook.wording import _, cautions
from logbook.wording.sites import hand_text, place_text
from logbook.wording.terms import hands_pricked_text, lancet_habit_text, rotation_habit_text

# These make sense without fingers too.
_ALWAYS_SHOWN = frozenset({"tracks_fingers", "lancet_habit"})


class FingersView(SettingsView):
    """Hands, fingers, habit, and whether fingers are tracked at all."""

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self.add_setting(
            "hand_with_device",
            _("Which hand holds the lancing device?"),
            [(hand, hand_text(hand)) for hand in Hand],
        )
        self.add_setting(
            "hands_pricked",
            _("Which hand do you prick?"),
            [(hands, hands_pricked_text(hands)) for hands in HandsPricked],
        )
        self.add_setting(
            "fingers_in_use",
            _("Which fingers?"),
            [(place, place_text(place)) for place in FINGERS],
            columns=5,
            several=True,
        )
        self.add_setting(
            "rotation_habit",
            _("Which finger is next?"),
            [(habit, rotation_habit_text(habit)) for habit in RotationHabit],
            columns=3,
        )
        self.add_setting(
            "always_follows_advice",
            _("Do you always use the finger that is shown?"),
            [
                (False, _("No, I say which finger I used")),
                (True, _("Yes, I always follow the advice")),
            ],
        )
        self.add_setting(
            "lancet_habit",
            _("How do you use lancets? Makers ask for a new one every time."),
            [(habit, lancet_habit_text(habit)) for habit in LancetHabit],
        )
        self.add_setting(
            "tracks_fingers",
            _("Keep track of your fingers?"),
            [(True, _("Yes")), (False, _("No, don't track fingers"))],
        )
        self.add_setting(
            "other_places_in_use",
            _("Other places, if your meter allows them"),
            [(place, place_text(place)) for place in OTHER_PLACES],
            columns=3,
            several=True,
        )
        self.other_words = self.rows.add_words(cautions.other_site())

    def title(self) -> str:
        return _("How do you use fingers and lancets?")

    def refresh(self, changed: Changed | None) -> None:
        super().refresh(changed)
        for field, choice in self.choices.items():
            choice.setVisible(field in _ALWAYS_SHOWN or self.settings.tracks_fingers)
        self.other_words.setVisible(self.settings.tracks_fingers)

    def saved_text(self, field: str) -> str:
        settings = self.settings
        match field:
            case "hand_with_device":
                return _("Holds the device: {hand}.").format(
                    hand=hand_text(settings.hand_with_device)
                )
            case "hands_pricked":
                return _("Pricked: {hands}.").format(
                    hands=hands_pricked_text(settings.hands_pricked)
                )
            case "fingers_in_use":
                if not settings.fingers_in_use:
                    return _("No finger is in use. Choose one, or no finger can be shown.")
                return _("In use: {fingers}.").format(
                    fingers=", ".join(place_text(place) for place in settings.fingers_in_use)
                )
            case "rotation_habit":
                return _("Next: {habit}.").format(
                    habit=rotation_habit_text(settings.rotation_habit)
                )
            case "always_follows_advice":
                return (
                    _("Each check counts the finger that is shown.")
                    if settings.always_follows_advice
                    else _("A finger counts as used when you say so.")
                )
            case "tracks_fingers":
                return (
                    _("Your fingers are tracked.")
                    if settings.tracks_fingers
                    else _("Your fingers are not tracked.")
                )
            case "lancet_habit":
                return _("Lancets: {habit}.").format(habit=lancet_habit_text(settings.lancet_habit))
            case _:
                places = ", ".join(place_text(place) for place in settings.other_places_in_use)
                return _("Other places in use: {places}.").format(places=places or _("none"))
