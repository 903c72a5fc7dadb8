CREATE TABLE happenings (
    id TEXT NOT NULL CONSTRAINT ck_happenings_id CHECK (length(id) = 36),
    what TEXT NOT NULL CONSTRAINT ck_happenings_what CHECK (what IN ('felt_low_treated', 'needed_help', 'ambulance', 'fall', 'strip_failed')),
    instant INTEGER NOT NULL,
    offset_seconds INTEGER NOT NULL CONSTRAINT ck_happenings_offset_seconds CHECK (offset_seconds BETWEEN -86399 AND 86399),
    zone TEXT NOT NULL,
    zone_assumed INTEGER NOT NULL CONSTRAINT ck_happenings_zone_assumed CHECK (zone_assumed IN (0, 1)),
    wall_minute INTEGER NOT NULL CONSTRAINT ck_happenings_wall_minute CHECK (instant + offset_seconds * 1000000 - wall_minute * 60000000 BETWEEN 0 AND 59999999),
    written_at INTEGER NOT NULL,
    strip_failure TEXT CONSTRAINT ck_happenings_strip_failure CHECK (strip_failure IN ('same_drop', 'pricked_again', 'error_shown')),
    about TEXT CONSTRAINT ck_happenings_about CHECK (length(about) = 36),
    note TEXT NOT NULL,
    crossed_out_at INTEGER,
    digest BLOB NOT NULL CONSTRAINT ck_happenings_digest CHECK (length(digest) = 32),
    CONSTRAINT pk_happenings PRIMARY KEY (id)
)
 STRICT;

CREATE TABLE answers (
    id TEXT NOT NULL CONSTRAINT ck_answers_id CHECK (length(id) = 36),
    about TEXT NOT NULL CONSTRAINT ck_answers_about CHECK (length(about) = 36),
    asked TEXT NOT NULL CONSTRAINT ck_answers_asked CHECK (asked IN ('felt_low_coming', 'recheck_due', 'called')),
    said TEXT NOT NULL CONSTRAINT ck_answers_said CHECK (said IN ('yes', 'no', 'not_sure', 'later', 'not_answered')),
    at INTEGER NOT NULL,
    digest BLOB NOT NULL CONSTRAINT ck_answers_digest CHECK (length(digest) = 32),
    CONSTRAINT pk_answers PRIMARY KEY (id)
)
 STRICT;

CREATE TABLE targets (
    id TEXT NOT NULL CONSTRAINT ck_targets_id CHECK (length(id) = 36),
    kind TEXT NOT NULL CONSTRAINT ck_targets_kind CHECK (kind IN ('fasting', 'before_meals', 'after_meals', 'bedtime', 'night')),
    printed TEXT NOT NULL CONSTRAINT ck_targets_printed CHECK ("printed" = '' OR "printed" GLOB '[[]*]'),
    holds_from TEXT NOT NULL CONSTRAINT ck_targets_holds_from CHECK (holds_from GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    set_by TEXT NOT NULL CONSTRAINT ck_targets_set_by CHECK (set_by IN ('provider', 'self', 'published')),
    set_by_name TEXT NOT NULL,
    source TEXT NOT NULL,
    edition TEXT NOT NULL,
    is_agreed INTEGER NOT NULL CONSTRAINT ck_targets_is_agreed CHECK (is_agreed IN (0, 1)),
    written_at INTEGER,
    digest BLOB NOT NULL CONSTRAINT ck_targets_digest CHECK (length(digest) = 32),
    CONSTRAINT pk_targets PRIMARY KEY (id)
)
 STRICT;

CREATE TABLE meters (
    id TEXT NOT NULL CONSTRAINT ck_meters_id CHECK (length(id) = 36),
    name TEXT NOT NULL,
    unit TEXT NOT NULL CONSTRAINT ck_meters_unit CHECK (unit IN ('mg/dL', 'mmol/L')),
    lowest INTEGER NOT NULL,
    highest INTEGER NOT NULL,
    in_use_from TEXT NOT NULL CONSTRAINT ck_meters_in_use_from CHECK (in_use_from GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    in_use_until TEXT CONSTRAINT ck_meters_in_use_until CHECK (in_use_until GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    is_own INTEGER NOT NULL CONSTRAINT ck_meters_is_own CHECK (is_own IN (0, 1)),
    clock_ahead_seconds INTEGER NOT NULL,
    digest BLOB NOT NULL CONSTRAINT ck_meters_digest CHECK (length(digest) = 32),
    CONSTRAINT pk_meters PRIMARY KEY (id)
)
 STRICT;

CREATE TABLE lancet_changes (
    id TEXT NOT NULL CONSTRAINT ck_lancet_changes_id CHECK (length(id) = 36),
    instant INTEGER NOT NULL,
    offset_seconds INTEGER NOT NULL CONSTRAINT ck_lancet_changes_offset_seconds CHECK (offset_seconds BETWEEN -86399 AND 86399),
    zone TEXT NOT NULL,
    zone_assumed INTEGER NOT NULL CONSTRAINT ck_lancet_changes_zone_assumed CHECK (zone_assumed IN (0, 1)),
    wall_minute INTEGER NOT NULL CONSTRAINT ck_lancet_changes_wall_minute CHECK (instant + offset_seconds * 1000000 - wall_minute * 60000000 BETWEEN 0 AND 59999999),
    written_at INTEGER NOT NULL,
    reason TEXT NOT NULL CONSTRAINT ck_lancet_changes_reason CHECK (reason IN ('usual', 'dull', 'painful', 'dropped', 'ill')),
    digest BLOB NOT NULL CONSTRAINT ck_lancet_changes_digest CHECK (length(digest) = 32),
    CONSTRAINT pk_lancet_changes PRIMARY KEY (id)
)
 STRICT;

CREATE TABLE spells (
    id TEXT NOT NULL CONSTRAINT ck_spells_id CHECK (length(id) = 36),
    kind TEXT NOT NULL CONSTRAINT ck_spells_kind CHECK (kind IN ('ill', 'steroid', 'hospital', 'travel', 'fasting_month', 'new_medicine', 'dialysis', 'other')),
    first TEXT NOT NULL CONSTRAINT ck_spells_first CHECK (first GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    last TEXT CONSTRAINT ck_spells_last CHECK (last GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    note TEXT NOT NULL,
    digest BLOB NOT NULL CONSTRAINT ck_spells_digest CHECK (length(digest) = 32),
    CONSTRAINT pk_spells PRIMARY KEY (id)
)
 STRICT;

CREATE TABLE appointments (
    id TEXT NOT NULL CONSTRAINT ck_appointments_id CHECK (length(id) = 36),
    day TEXT NOT NULL CONSTRAINT ck_appointments_day CHECK (day GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    at TEXT,
    with_whom TEXT NOT NULL,
    place TEXT NOT NULL,
    decided TEXT NOT NULL,
    digest BLOB NOT NULL CONSTRAINT ck_appointments_digest CHECK (length(digest) = 32),
    CONSTRAINT pk_appointments PRIMARY KEY (id)
)
 STRICT;

CREATE TABLE questions (
    id TEXT NOT NULL CONSTRAINT ck_questions_id CHECK (length(id) = 36),
    text TEXT NOT NULL,
    written_at INTEGER NOT NULL,
    done_on TEXT CONSTRAINT ck_questions_done_on CHECK (done_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    digest BLOB NOT NULL CONSTRAINT ck_questions_digest CHECK (length(digest) = 32),
    CONSTRAINT pk_questions PRIMARY KEY (id)
)
 STRICT;

CREATE TABLE medicines (
    id TEXT NOT NULL CONSTRAINT ck_medicines_id CHECK (length(id) = 36),
    text TEXT NOT NULL,
    holds_from TEXT NOT NULL CONSTRAINT ck_medicines_holds_from CHECK (holds_from GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    holds_until TEXT CONSTRAINT ck_medicines_holds_until CHECK (holds_until GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    digest BLOB NOT NULL CONSTRAINT ck_medicines_digest CHECK (length(digest) = 32),
    CONSTRAINT pk_medicines PRIMARY KEY (id)
)
 STRICT;

CREATE TABLE contacts (
    id TEXT NOT NULL CONSTRAINT ck_contacts_id CHECK (length(id) = 36),
    role TEXT NOT NULL,
    name TEXT NOT NULL,
    phone TEXT NOT NULL,
    digest BLOB NOT NULL CONSTRAINT ck_contacts_digest CHECK (length(digest) = 32),
    CONSTRAINT pk_contacts PRIMARY KEY (id)
)
 STRICT;

CREATE TABLE settings (
    name TEXT NOT NULL,
    value TEXT NOT NULL CONSTRAINT ck_settings_value CHECK (value <> ''),
    digest BLOB NOT NULL CONSTRAINT ck_settings_digest CHECK (length(digest) = 32),
    CONSTRAINT pk_settings PRIMARY KEY (name)
)
 STRICT;

CREATE TABLE log (
    only INTEGER NOT NULL CONSTRAINT ck_log_only CHECK (only = 1),
    log_id TEXT NOT NULL CONSTRAINT ck_log_log_id CHECK (length(log_id) = 36),
    writer TEXT NOT NULL CONSTRAINT ck_log_writer CHECK (length(writer) = 36),
    born_at INTEGER NOT NULL,
    last_sequence INTEGER NOT NULL,
    schema_sha256 BLOB NOT NULL CONSTRAINT ck_log_schema_sha256 CHECK (length(schema_sha256) = 32),
    digest BLOB NOT NULL CONSTRAINT ck_log_digest CHECK (length(digest) = 32),
    CONSTRAINT pk_log PRIMARY KEY (only)
)
 STRICT;

CREATE TABLE changes (
    sequence INTEGER NOT NULL,
    id TEXT NOT NULL CONSTRAINT ck_changes_id CHECK (length(id) = 36),
    writer TEXT NOT NULL CONSTRAINT ck_changes_writer CHECK (length(writer) = 36),
    instant INTEGER NOT NULL,
    kind TEXT NOT NULL CONSTRAINT ck_changes_kind CHECK (kind IN ('begin', 'add', 'correct', 'cross_out', 'bring_back', 'doubt', 'replace', 'settings', 'import', 'undo', 'put_back')),
    undoes TEXT CONSTRAINT ck_changes_undoes CHECK (length(undoes) = 36),
    name TEXT NOT NULL,
    count INTEGER NOT NULL CONSTRAINT ck_changes_count CHECK (count >= 0),
    sha256 BLOB NOT NULL CONSTRAINT ck_changes_sha256 CHECK (length(sha256) = 32),
    CONSTRAINT pk_changes PRIMARY KEY (sequence),
    CONSTRAINT uq_changes_id UNIQUE (id),
    CONSTRAINT fk_changes_undoes FOREIGN KEY(undoes) REFERENCES changes (id) DEFERRABLE INITIALLY DEFERRED
)
 STRICT;

CREATE TABLE readings (
    id TEXT NOT NULL CONSTRAINT ck_readings_id CHECK (length(id) = 36),
    instant INTEGER NOT NULL,
    offset_seconds INTEGER NOT NULL CONSTRAINT ck_readings_offset_seconds CHECK (offset_seconds BETWEEN -86399 AND 86399),
    zone TEXT NOT NULL,
    zone_assumed INTEGER NOT NULL CONSTRAINT ck_readings_zone_assumed CHECK (zone_assumed IN (0, 1)),
    wall_minute INTEGER NOT NULL CONSTRAINT ck_readings_wall_minute CHECK (instant + offset_seconds * 1000000 - wall_minute * 60000000 BETWEEN 0 AND 59999999),
    written_at INTEGER NOT NULL,
    unit TEXT NOT NULL CONSTRAINT ck_readings_unit CHECK (unit IN ('mg/dL', 'mmol/L')),
    kind TEXT NOT NULL CONSTRAINT ck_readings_kind CHECK (kind IN ('number', 'reads_low', 'reads_high')),
    steps INTEGER NOT NULL CONSTRAINT ck_readings_steps CHECK ((kind = 'number' AND unit = 'mg/dL' AND steps BETWEEN 10 AND 1000) OR (kind = 'number' AND unit = 'mmol/L' AND steps BETWEEN 6 AND 550) OR (kind = 'reads_low' AND steps = -1) OR (kind = 'reads_high' AND steps = 1000000)),
    written TEXT NOT NULL,
    slot TEXT NOT NULL CONSTRAINT ck_readings_slot CHECK (slot IN ('fasting', 'after_breakfast', 'before_lunch', 'after_lunch', 'before_dinner', 'after_dinner', 'before_snack', 'after_snack', 'between_meals', 'bedtime', 'night', 'other')),
    purpose TEXT NOT NULL CONSTRAINT ck_readings_purpose CHECK (purpose IN ('planned', 'recheck', 'repeat', 'felt_something', 'before_driving', 'extra')),
    source TEXT NOT NULL CONSTRAINT ck_readings_source CHECK (source IN ('typed', 'copied_from_meter', 'imported')),
    minutes_after INTEGER,
    meter_id TEXT CONSTRAINT ck_readings_meter_id CHECK (length(meter_id) = 36),
    is_foreign INTEGER NOT NULL CONSTRAINT ck_readings_is_foreign CHECK (is_foreign IN (0, 1)),
    site TEXT,
    site_use TEXT NOT NULL CONSTRAINT ck_readings_site_use CHECK (site_use IN ('used', 'suggested', 'not_noted')),
    recheck_of TEXT CONSTRAINT ck_readings_recheck_of CHECK (length(recheck_of) = 36),
    feelings TEXT NOT NULL CONSTRAINT ck_readings_feelings CHECK ("feelings" = '' OR "feelings" GLOB '[[]*]'),
    differences TEXT NOT NULL CONSTRAINT ck_readings_differences CHECK ("differences" = '' OR "differences" GLOB '[[]*]'),
    could_not_wash INTEGER NOT NULL CONSTRAINT ck_readings_could_not_wash CHECK (could_not_wash IN (0, 1)),
    note TEXT NOT NULL,
    initials TEXT NOT NULL,
    crossed_out_at INTEGER,
    crossed_out_reason TEXT NOT NULL,
    doubt TEXT CONSTRAINT ck_readings_doubt CHECK (doubt IN ('unwashed_finger', 'strip', 'meter', 'other')),
    earlier TEXT NOT NULL CONSTRAINT ck_readings_earlier CHECK ("earlier" = '' OR "earlier" GLOB '[[]*]'),
    digest BLOB NOT NULL CONSTRAINT ck_readings_digest CHECK (length(digest) = 32),
    CONSTRAINT pk_readings PRIMARY KEY (id),
    CONSTRAINT fk_readings_meter_id FOREIGN KEY(meter_id) REFERENCES meters (id) DEFERRABLE INITIALLY DEFERRED,
    CONSTRAINT fk_readings_recheck_of FOREIGN KEY(recheck_of) REFERENCES readings (id) DEFERRABLE INITIALLY DEFERRED
)
 STRICT;

CREATE INDEX ix_readings_instant ON readings (instant, wall_minute);

CREATE INDEX ix_readings_recheck_of ON readings (recheck_of) WHERE recheck_of IS NOT NULL;

CREATE INDEX ix_readings_wall_minute ON readings (wall_minute);

CREATE TABLE change_records (
    sequence INTEGER NOT NULL,
    position INTEGER NOT NULL,
    kind TEXT NOT NULL,
    record_id TEXT NOT NULL,
    "before" TEXT NOT NULL CONSTRAINT ck_change_records_before CHECK ("before" = '' OR "before" GLOB '{*}'),
    "after" TEXT NOT NULL CONSTRAINT ck_change_records_after CHECK ("after" = '' OR "after" GLOB '{*}'),
    CONSTRAINT pk_change_records PRIMARY KEY (sequence, position),
    CONSTRAINT fk_change_records_sequence FOREIGN KEY(sequence) REFERENCES changes (sequence)
)
 STRICT;
