"""Any record a log can hold, for Hypothesis: odd texts, LO and HI, far zones and repeated hours."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta

from hypothesis import strategies as st

from logbook.domain.answers import Answer, Asked, Said
from logbook.domain.glucose import POSSIBLE_STEPS, Glucose, Unit
from logbook.domain.happenings import Happening, StripFailure, What
from logbook.domain.lancets import LancetChange, LancetChangeReason, LancetHabit
from logbook.domain.meters import Meter
from logbook.domain.moments import Moment
from logbook.domain.readings import (
    CrossedOut,
    Difference,
    Doubt,
    Earlier,
    Feeling,
    Reading,
    Source,
)
from logbook.domain.settings import HandsPricked, LogSettings, RotationHabit
from logbook.domain.sites import FINGERS, OTHER_PLACES, Hand, Place, Side, Site, SiteUse
from logbook.domain.slots import Purpose, Slot
from logbook.domain.spells import Spell, SpellKind
from logbook.domain.targets import Limit, Limits, Operator, SetBy, Target, TargetKind
from logbook.domain.visits import Appointment, Contact, Medicine, Question

ids = st.uuids(version=4)
# Everything a text can be but NUL and lone surrogates, which no file of text can hold.
texts = st.one_of(
    st.sampled_from(["", '"', "\\", "\x01\x1f\x7f", "\n\r\t\b\f", "\u202eé☃\U0001f600", "'; DROP"]),
    st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0"), max_size=12),
)
days = st.dates(date(1900, 1, 1), date(2199, 12, 31))
instants = st.datetimes(datetime(1950, 1, 1), datetime(2100, 1, 1), timezones=st.just(UTC))
zones = st.sampled_from(
    ["UTC", "America/New_York", "Pacific/Apia", "Asia/Kathmandu", "Africa/Monrovia", "Etc/GMT+12"]
)


@st.composite
def moments(draw: st.DrawFn) -> Moment:
    if draw(st.booleans()):
        return Moment.at(draw(instants), draw(zones))
    wall = draw(st.datetimes(datetime(1950, 1, 1), datetime(2100, 1, 1)))
    return Moment.from_wall(
        wall, draw(zones), second_time=draw(st.booleans()), zone_assumed=draw(st.booleans())
    )


@st.composite
def glucoses(draw: st.DrawFn) -> Glucose:
    unit = draw(st.sampled_from(Unit))
    written = draw(texts)
    match draw(st.integers(0, 9)):
        case 0:
            return Glucose.reads_low(unit, written)
        case 1:
            return Glucose.reads_high(unit, written)
        case _:
            return Glucose.number(draw(st.integers(*POSSIBLE_STEPS[unit])), unit, written)


sites = st.one_of(
    st.builds(
        Site, st.sampled_from(Hand), st.sampled_from(FINGERS), st.none() | st.sampled_from(Side)
    ),
    st.builds(Site, st.sampled_from(Hand), st.sampled_from(OTHER_PLACES)),
)
minutes = st.none() | st.integers(0, 600)
earlier = st.lists(
    st.builds(Earlier, glucoses(), moments(), st.sampled_from(Slot), instants, texts), max_size=2
).map(tuple)

readings = st.builds(
    Reading,
    id=ids,
    glucose=glucoses(),
    at=moments(),
    written_at=instants,
    slot=st.sampled_from(Slot),
    purpose=st.sampled_from(Purpose),
    source=st.sampled_from(Source),
    minutes_after=minutes,
    meter_id=st.none(),
    is_foreign=st.booleans(),
    site=st.none() | sites,
    site_use=st.sampled_from(SiteUse),
    recheck_of=st.none(),
    feelings=st.lists(st.sampled_from(Feeling), unique=True, max_size=3).map(tuple),
    differences=st.lists(st.sampled_from(Difference), unique=True, max_size=3).map(tuple),
    could_not_wash=st.booleans(),
    note=texts,
    initials=texts,
    crossed_out=st.none() | st.builds(CrossedOut, instants, texts),
    doubt=st.none() | st.sampled_from(Doubt),
    earlier=earlier,
    is_damaged=st.just(False),
)
happenings = st.builds(
    Happening,
    ids,
    st.sampled_from(What),
    moments(),
    instants,
    st.none() | st.sampled_from(StripFailure),
    st.none() | ids,
    texts,
    st.none() | instants,
)
answers = st.builds(Answer, ids, ids, st.sampled_from(Asked), st.sampled_from(Said), instants)
limits = st.builds(
    Limits,
    st.sampled_from(Unit),
    *[st.none() | st.builds(Limit, st.sampled_from(Operator), st.integers(6, 1000))] * 2,
)
targets = st.builds(
    Target,
    ids,
    st.sampled_from(TargetKind),
    st.lists(limits, max_size=2).map(tuple),
    days,
    st.sampled_from(SetBy),
    texts,
    texts,
    texts,
    st.booleans(),
    st.none() | instants,
)
seconds = st.integers(-100_000, 100_000).map(lambda s: timedelta(seconds=s))
meters = st.builds(
    Meter,
    ids,
    texts,
    st.sampled_from(Unit),
    st.integers(1, 50),
    st.integers(300, 700),
    days,
    st.none() | days,
    st.booleans(),
    seconds,
)
lancet_changes = st.builds(
    LancetChange, ids, moments(), instants, st.sampled_from(LancetChangeReason)
)
spells = st.builds(Spell, ids, st.sampled_from(SpellKind), days, st.none() | days, texts)
times = st.times(max_value=time(23, 59)).map(lambda t: t.replace(microsecond=0))
appointments = st.builds(Appointment, ids, days, st.none() | times, texts, texts, texts)
questions = st.builds(Question, ids, texts, instants, st.none() | days)
medicines = st.builds(Medicine, ids, texts, days, st.none() | days)
contacts = st.builds(Contact, ids, texts, texts, texts)

record_lists = {
    Reading: readings,
    Happening: happenings,
    Answer: answers,
    Target: targets,
    Meter: meters,
    LancetChange: lancet_changes,
    Spell: spells,
    Appointment: appointments,
    Question: questions,
    Medicine: medicines,
    Contact: contacts,
}
records = st.one_of(*record_lists.values())

pairs = st.lists(st.tuples(texts, texts), max_size=2).map(tuple)
places = st.lists(st.sampled_from(Place), unique=True, max_size=4).map(tuple)
log_settings = st.builds(
    LogSettings,
    unit=st.sampled_from(Unit),
    home_zone=zones,
    person_name=texts,
    born=texts,
    day_starts_at=times,
    very_high_above=st.none() | st.integers(100, 1000),
    country=texts,
    can_have_lows=st.none() | st.booleans(),
    tracks_fingers=st.booleans(),
    always_follows_advice=st.booleans(),
    hand_with_device=st.sampled_from(Hand),
    hands_pricked=st.sampled_from(HandsPricked),
    fingers_in_use=places,
    other_places_in_use=places,
    rotation_habit=st.sampled_from(RotationHabit),
    left_out=pairs,
    sore=pairs,
    lancet_habit=st.sampled_from(LancetHabit),
    low_plan=texts,
    high_plan=texts,
    sick_day_plan=texts,
)
