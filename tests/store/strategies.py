"""Any record a log can hold, for Hypothesis: odd texts, LO and HI, far zones and repeated hours."""

from __future__ import annotations

import json
from datetime import UTC, date, datetime, time, timedelta
from uuid import UUID

from hypothesis import strategies as st

from logbook.domain.answers import Answer, Asked, Said
from logbook.domain.disagreements import Disagreement
from logbook.domain.glucose import POSSIBLE_STEPS, Glucose, Unit
from logbook.domain.happenings import Happening, StripFailure, What
from logbook.domain.kit.control import ControlBottle, ControlTest
from logbook.domain.kit.dates import AfterOpening, PrintedDate
from logbook.domain.kit.depths import PunctureNote
from logbook.domain.kit.lancets import LancetChange, LancetChangeReason, LancetHabit
from logbook.domain.kit.meter_care import LabComparison, MeterAverage, MeterEvent, MeterWhat
from logbook.domain.kit.meters import Meter
from logbook.domain.kit.sharps import SharpsContainer
from logbook.domain.kit.strips import ControlRange, Packing, StripCount, Vial, WhyEnded
from logbook.domain.kit.supplies import ForLows, LowSupply, Supply, SupplyKind
from logbook.domain.laboratory import A1CUnit, LabA1C
from logbook.domain.medicine_notes import MedicineNote, NotAsPlanned
from logbook.domain.moments import Moment
from logbook.domain.plan.plans import CheckPlan, MealStart, Pause, PlannedCheck, PutAside
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
from logbook.domain.ticks import About, Tick, Told
from logbook.domain.visits import Appointment, Contact, Medicine, Question

METER = Meter.usual(UUID(int=1, version=4), "kept", Unit.MG_DL, date(2026, 1, 1))
VIAL = Vial(UUID(int=2, version=4), METER.id, 50, datetime(2026, 1, 1, tzinfo=UTC))
BOTTLE = ControlBottle(UUID(int=3, version=4), "1", datetime(2026, 1, 1, tzinfo=UTC))
# What the records below may refer to; a log that takes any of them has these first.
KEPT = (METER, VIAL, BOTTLE)

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
meters_kept, vials_kept, bottles_kept = (st.none() | st.just(one.id) for one in KEPT)
crossings_out = st.none() | instants
happenings = st.builds(
    Happening,
    ids,
    st.sampled_from(What),
    moments(),
    instants,
    st.none() | st.sampled_from(StripFailure),
    st.none() | ids,
    st.none() | sites,
    meters_kept,
    texts,
    crossings_out,
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

# --- kit -----------------------------------------------------------------------------------------

printed_dates = st.one_of(
    st.none(),
    days.map(PrintedDate),
    st.builds("{:04}-{:02}".format, st.integers(1900, 2199), st.integers(1, 12)).map(
        PrintedDate.from_code
    ),
)
after_openings = st.none() | st.builds(AfterOpening, st.integers(1, 9999), st.booleans())
maybe_days = st.none() | days
counts = st.integers(0, 10_000)
nobody_knows = st.none() | st.booleans()
ranges = st.builds(
    ControlRange, texts, st.sampled_from(Unit), st.integers(6, 500), st.integers(6, 500)
)
vials = st.builds(
    Vial,
    ids,
    meters_kept,
    counts,
    instants,
    st.sampled_from(Packing),
    texts,
    texts,
    printed_dates,
    after_openings,
    st.none() | instants,
    maybe_days,
    st.none() | instants,
    st.none() | st.sampled_from(WhyEnded),
    st.lists(ranges, max_size=2).map(tuple),
)
strip_counts = st.builds(
    StripCount, ids, st.just(VIAL.id), moments(), instants, counts, crossings_out
)
control_bottles = st.builds(
    ControlBottle,
    ids,
    texts,
    instants,
    texts,
    printed_dates,
    after_openings,
    maybe_days,
    maybe_days,
)
control_tests = st.builds(
    ControlTest,
    ids,
    moments(),
    instants,
    meters_kept,
    vials_kept,
    bottles_kept,
    texts,
    glucoses(),
    st.none() | st.integers(-400, 600),
    texts,
    crossings_out,
)
meter_events = st.builds(
    MeterEvent,
    ids,
    st.just(METER.id),
    st.sampled_from(MeterWhat),
    moments(),
    instants,
    st.none() | st.integers(-10_000, 10_000),
    texts,
    crossings_out,
)
lab_comparisons = st.builds(
    LabComparison,
    ids,
    meters_kept,
    moments(),
    instants,
    glucoses(),
    glucoses(),
    minutes,
    nobody_knows,
    texts,
    crossings_out,
)
meter_averages = st.builds(
    MeterAverage,
    ids,
    meters_kept,
    moments(),
    instants,
    st.integers(1, 365),
    glucoses(),
    st.none() | counts,
    crossings_out,
)
puncture_notes = st.builds(
    PunctureNote, ids, ids, instants, st.none() | st.integers(0, 100), nobody_knows, nobody_knows
)
sharps_containers = st.builds(
    SharpsContainer,
    ids,
    days,
    instants,
    st.none() | st.integers(1, 5000),
    counts,
    maybe_days,
    maybe_days,
    texts,
)
low_supplies = st.builds(
    LowSupply,
    ids,
    st.sampled_from(ForLows),
    instants,
    st.booleans(),
    texts,
    printed_dates,
    texts,
    texts,
    maybe_days,
)
supplies = st.builds(
    Supply,
    ids,
    st.sampled_from(SupplyKind),
    texts,
    instants,
    st.none() | counts,
    maybe_days,
    maybe_days,
)

# --- plan and health -----------------------------------------------------------------------------

weekdays = st.lists(st.integers(0, 6), unique=True, max_size=7).map(lambda d: tuple(sorted(d)))
planned_checks = st.builds(
    PlannedCheck,
    st.sampled_from(Slot),
    times,
    weekdays,
    st.integers(1, 14),
    st.integers(0, 13),
    minutes,
)
check_plans = st.builds(
    CheckPlan,
    ids,
    days,
    st.lists(planned_checks, max_size=3).map(tuple),
    instants,
    st.sampled_from(SetBy),
    texts,
    texts,
    st.integers(0, 14),
    st.none() | st.integers(1, 12),
)
pauses = st.builds(Pause, ids, days, instants, maybe_days, texts)
put_asides = st.builds(PutAside, ids, days, st.sampled_from(Slot), instants)
meal_starts = st.builds(MealStart, ids, st.sampled_from(Slot), moments(), instants, crossings_out)
ticks = st.builds(Tick, ids, st.sampled_from(About), st.sampled_from(Told), days, instants)
lab_a1cs = st.builds(
    LabA1C,
    ids,
    days,
    st.integers(1, 300),
    st.sampled_from(A1CUnit),
    instants,
    texts,
    crossings_out,
)
medicine_notes = st.builds(
    MedicineNote, ids, st.sampled_from(NotAsPlanned), moments(), instants, texts, crossings_out
)

record_objects = st.just("{}") | texts.map(lambda text: json.dumps({"text": text}))
disagreements = st.builds(
    Disagreement, ids, texts, texts, record_objects, record_objects, crossings_out
)

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
    Vial: vials,
    StripCount: strip_counts,
    ControlBottle: control_bottles,
    ControlTest: control_tests,
    MeterEvent: meter_events,
    LabComparison: lab_comparisons,
    MeterAverage: meter_averages,
    PunctureNote: puncture_notes,
    SharpsContainer: sharps_containers,
    LowSupply: low_supplies,
    Supply: supplies,
    CheckPlan: check_plans,
    Pause: pauses,
    PutAside: put_asides,
    MealStart: meal_starts,
    Tick: ticks,
    LabA1C: lab_a1cs,
    MedicineNote: medicine_notes,
    Disagreement: disagreements,
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
    emergency_number=texts,
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
    has_control_solution=st.booleans(),
    control_interval_days=st.none() | st.integers(1, 90),
    strip_reserve=counts,
    delivery_days=counts,
    earliest_refill=maybe_days,
    pen_needles_a_day=counts,
    finding_days=counts,
    low_repeat_count=counts,
    low_repeat_days=counts,
    near_low_count=counts,
    near_low_days=counts,
    high_least_readings=counts,
    high_margin=st.none() | counts,
    pairs_needed=counts,
    meal_rise_above=st.none() | counts,
    overnight_fall_from=st.none() | counts,
    after_meal_from_minutes=counts,
    weekend=weekdays,
    day_groups=pairs,
    low_plan=texts,
    high_plan=texts,
    sick_day_plan=texts,
)
