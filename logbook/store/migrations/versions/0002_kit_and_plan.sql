ALTER TABLE happenings RENAME TO happenings_of_1;

CREATE TABLE happenings (
    id TEXT NOT NULL CONSTRAINT ck_happenings_id CHECK (length(id) = 36),
    what TEXT NOT NULL CONSTRAINT ck_happenings_what CHECK (what IN ('felt_low_treated', 'needed_help', 'ambulance', 'fall', 'strip_failed', 'cannot_eat_or_drink')),
    instant INTEGER NOT NULL,
    offset_seconds INTEGER NOT NULL CONSTRAINT ck_happenings_offset_seconds CHECK (offset_seconds BETWEEN -86399 AND 86399),
    zone TEXT NOT NULL,
    zone_assumed INTEGER NOT NULL CONSTRAINT ck_happenings_zone_assumed CHECK (zone_assumed IN (0, 1)),
    wall_minute INTEGER NOT NULL CONSTRAINT ck_happenings_wall_minute CHECK (instant + offset_seconds * 1000000 - wall_minute * 60000000 BETWEEN 0 AND 59999999),
    written_at INTEGER NOT NULL,
    strip_failure TEXT CONSTRAINT ck_happenings_strip_failure CHECK (strip_failure IN ('same_drop', 'pricked_again', 'error_shown')),
    about TEXT CONSTRAINT ck_happenings_about CHECK (length(about) = 36),
    site TEXT,
    meter_id TEXT CONSTRAINT ck_happenings_meter_id CHECK (length(meter_id) = 36),
    note TEXT NOT NULL,
    crossed_out_at INTEGER,
    digest BLOB NOT NULL CONSTRAINT ck_happenings_digest CHECK (length(digest) = 32),
    CONSTRAINT pk_happenings PRIMARY KEY (id),
    CONSTRAINT fk_happenings_meter_id FOREIGN KEY(meter_id) REFERENCES meters (id) DEFERRABLE INITIALLY DEFERRED
)
 STRICT;

INSERT INTO happenings (rowid, id, what, instant, offset_seconds, zone, zone_assumed, wall_minute, written_at, strip_failure, about, note, crossed_out_at, digest)
SELECT rowid, id, what, instant, offset_seconds, zone, zone_assumed, wall_minute, written_at, strip_failure, about, note, crossed_out_at, digest FROM happenings_of_1 ORDER BY rowid;

DROP TABLE happenings_of_1;

ALTER TABLE answers RENAME TO answers_of_1;

CREATE TABLE answers (
    id TEXT NOT NULL CONSTRAINT ck_answers_id CHECK (length(id) = 36),
    about TEXT NOT NULL CONSTRAINT ck_answers_about CHECK (length(about) = 36),
    asked TEXT NOT NULL CONSTRAINT ck_answers_asked CHECK (asked IN ('felt_low_coming', 'recheck_due', 'called', 'watch_check', 'still_ill', 'kit_line')),
    said TEXT NOT NULL CONSTRAINT ck_answers_said CHECK (said IN ('yes', 'no', 'not_sure', 'later', 'not_answered')),
    at INTEGER NOT NULL,
    digest BLOB NOT NULL CONSTRAINT ck_answers_digest CHECK (length(digest) = 32),
    CONSTRAINT pk_answers PRIMARY KEY (id)
)
 STRICT;

INSERT INTO answers (rowid, id, about, asked, said, at, digest)
SELECT rowid, id, about, asked, said, at, digest FROM answers_of_1 ORDER BY rowid;

DROP TABLE answers_of_1;

CREATE TABLE check_plans (
    id TEXT NOT NULL CONSTRAINT ck_check_plans_id CHECK (length(id) = 36),
    holds_from TEXT NOT NULL CONSTRAINT ck_check_plans_holds_from CHECK (holds_from GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    checks TEXT NOT NULL CONSTRAINT ck_check_plans_checks CHECK ("checks" = '' OR "checks" GLOB '[[]*]'),
    written_at INTEGER NOT NULL,
    set_by TEXT NOT NULL CONSTRAINT ck_check_plans_set_by CHECK (set_by IN ('provider', 'self', 'published')),
    set_by_name TEXT NOT NULL,
    source TEXT NOT NULL,
    profile_days INTEGER NOT NULL CONSTRAINT ck_check_plans_profile_days CHECK ("profile_days" >= 0),
    ill_every_hours INTEGER CONSTRAINT ck_check_plans_ill_every_hours CHECK ("ill_every_hours" >= 1),
    digest BLOB NOT NULL CONSTRAINT ck_check_plans_digest CHECK (length(digest) = 32),
    CONSTRAINT pk_check_plans PRIMARY KEY (id)
)
 STRICT;

CREATE TABLE control_bottles (
    id TEXT NOT NULL CONSTRAINT ck_control_bottles_id CHECK (length(id) = 36),
    level TEXT NOT NULL,
    written_at INTEGER NOT NULL,
    lot TEXT NOT NULL,
    expires TEXT CONSTRAINT ck_control_bottles_expires CHECK (expires GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]' OR expires GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    after_opening TEXT CONSTRAINT ck_control_bottles_after_opening CHECK (after_opening GLOB '[1-9]*[dm]' AND after_opening NOT GLOB '*[^0-9]*[dm]'),
    opened_on TEXT CONSTRAINT ck_control_bottles_opened_on CHECK (opened_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    ended_on TEXT CONSTRAINT ck_control_bottles_ended_on CHECK (ended_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    digest BLOB NOT NULL CONSTRAINT ck_control_bottles_digest CHECK (length(digest) = 32),
    CONSTRAINT pk_control_bottles PRIMARY KEY (id)
)
 STRICT;

CREATE TABLE lab_a1cs (
    id TEXT NOT NULL CONSTRAINT ck_lab_a1cs_id CHECK (length(id) = 36),
    drawn_on TEXT NOT NULL CONSTRAINT ck_lab_a1cs_drawn_on CHECK (drawn_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    steps INTEGER NOT NULL CONSTRAINT ck_lab_a1cs_steps CHECK ("steps" >= 1),
    unit TEXT NOT NULL CONSTRAINT ck_lab_a1cs_unit CHECK (unit IN ('%', 'mmol/mol')),
    written_at INTEGER NOT NULL,
    note TEXT NOT NULL,
    crossed_out_at INTEGER,
    digest BLOB NOT NULL CONSTRAINT ck_lab_a1cs_digest CHECK (length(digest) = 32),
    CONSTRAINT pk_lab_a1cs PRIMARY KEY (id)
)
 STRICT;

CREATE TABLE low_supplies (
    id TEXT NOT NULL CONSTRAINT ck_low_supplies_id CHECK (length(id) = 36),
    kind TEXT NOT NULL CONSTRAINT ck_low_supplies_kind CHECK (kind IN ('glucose_tablets', 'glucagon', 'ketone_strips', 'other')),
    written_at INTEGER NOT NULL,
    is_there INTEGER NOT NULL CONSTRAINT ck_low_supplies_is_there CHECK (is_there IN (0, 1)),
    place TEXT NOT NULL,
    expires TEXT CONSTRAINT ck_low_supplies_expires CHECK (expires GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]' OR expires GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    who_knows TEXT NOT NULL,
    note TEXT NOT NULL,
    ended_on TEXT CONSTRAINT ck_low_supplies_ended_on CHECK (ended_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    digest BLOB NOT NULL CONSTRAINT ck_low_supplies_digest CHECK (length(digest) = 32),
    CONSTRAINT pk_low_supplies PRIMARY KEY (id)
)
 STRICT;

CREATE TABLE meal_starts (
    id TEXT NOT NULL CONSTRAINT ck_meal_starts_id CHECK (length(id) = 36),
    slot TEXT NOT NULL CONSTRAINT ck_meal_starts_slot CHECK (slot IN ('fasting', 'after_breakfast', 'before_lunch', 'after_lunch', 'before_dinner', 'after_dinner', 'before_snack', 'after_snack', 'between_meals', 'bedtime', 'night', 'other')),
    instant INTEGER NOT NULL,
    offset_seconds INTEGER NOT NULL CONSTRAINT ck_meal_starts_offset_seconds CHECK (offset_seconds BETWEEN -86399 AND 86399),
    zone TEXT NOT NULL,
    zone_assumed INTEGER NOT NULL CONSTRAINT ck_meal_starts_zone_assumed CHECK (zone_assumed IN (0, 1)),
    wall_minute INTEGER NOT NULL CONSTRAINT ck_meal_starts_wall_minute CHECK (instant + offset_seconds * 1000000 - wall_minute * 60000000 BETWEEN 0 AND 59999999),
    written_at INTEGER NOT NULL,
    crossed_out_at INTEGER,
    digest BLOB NOT NULL CONSTRAINT ck_meal_starts_digest CHECK (length(digest) = 32),
    CONSTRAINT pk_meal_starts PRIMARY KEY (id)
)
 STRICT;

CREATE TABLE medicine_notes (
    id TEXT NOT NULL CONSTRAINT ck_medicine_notes_id CHECK (length(id) = 36),
    kind TEXT NOT NULL CONSTRAINT ck_medicine_notes_kind CHECK (kind IN ('late', 'missed', 'other_amount', 'units_taken')),
    instant INTEGER NOT NULL,
    offset_seconds INTEGER NOT NULL CONSTRAINT ck_medicine_notes_offset_seconds CHECK (offset_seconds BETWEEN -86399 AND 86399),
    zone TEXT NOT NULL,
    zone_assumed INTEGER NOT NULL CONSTRAINT ck_medicine_notes_zone_assumed CHECK (zone_assumed IN (0, 1)),
    wall_minute INTEGER NOT NULL CONSTRAINT ck_medicine_notes_wall_minute CHECK (instant + offset_seconds * 1000000 - wall_minute * 60000000 BETWEEN 0 AND 59999999),
    written_at INTEGER NOT NULL,
    text TEXT NOT NULL,
    crossed_out_at INTEGER,
    digest BLOB NOT NULL CONSTRAINT ck_medicine_notes_digest CHECK (length(digest) = 32),
    CONSTRAINT pk_medicine_notes PRIMARY KEY (id)
)
 STRICT;

CREATE TABLE pauses (
    id TEXT NOT NULL CONSTRAINT ck_pauses_id CHECK (length(id) = 36),
    first TEXT NOT NULL CONSTRAINT ck_pauses_first CHECK (first GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    written_at INTEGER NOT NULL,
    last TEXT CONSTRAINT ck_pauses_last CHECK (last GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    reason TEXT NOT NULL,
    digest BLOB NOT NULL CONSTRAINT ck_pauses_digest CHECK (length(digest) = 32),
    CONSTRAINT pk_pauses PRIMARY KEY (id)
)
 STRICT;

CREATE TABLE puncture_notes (
    id TEXT NOT NULL CONSTRAINT ck_puncture_notes_id CHECK (length(id) = 36),
    about TEXT NOT NULL CONSTRAINT ck_puncture_notes_about CHECK (length(about) = 36),
    at INTEGER NOT NULL,
    depth_tenths INTEGER CONSTRAINT ck_puncture_notes_depth_tenths CHECK ("depth_tenths" >= 0),
    was_enough_blood INTEGER CONSTRAINT ck_puncture_notes_was_enough_blood CHECK (was_enough_blood IN (0, 1)),
    did_hurt INTEGER CONSTRAINT ck_puncture_notes_did_hurt CHECK (did_hurt IN (0, 1)),
    digest BLOB NOT NULL CONSTRAINT ck_puncture_notes_digest CHECK (length(digest) = 32),
    CONSTRAINT pk_puncture_notes PRIMARY KEY (id)
)
 STRICT;

CREATE TABLE put_asides (
    id TEXT NOT NULL CONSTRAINT ck_put_asides_id CHECK (length(id) = 36),
    day TEXT NOT NULL CONSTRAINT ck_put_asides_day CHECK (day GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    slot TEXT NOT NULL CONSTRAINT ck_put_asides_slot CHECK (slot IN ('fasting', 'after_breakfast', 'before_lunch', 'after_lunch', 'before_dinner', 'after_dinner', 'before_snack', 'after_snack', 'between_meals', 'bedtime', 'night', 'other')),
    written_at INTEGER NOT NULL,
    digest BLOB NOT NULL CONSTRAINT ck_put_asides_digest CHECK (length(digest) = 32),
    CONSTRAINT pk_put_asides PRIMARY KEY (id)
)
 STRICT;

CREATE TABLE sharps_containers (
    id TEXT NOT NULL CONSTRAINT ck_sharps_containers_id CHECK (length(id) = 36),
    started_on TEXT NOT NULL CONSTRAINT ck_sharps_containers_started_on CHECK (started_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    written_at INTEGER NOT NULL,
    capacity INTEGER CONSTRAINT ck_sharps_containers_capacity CHECK ("capacity" >= 1),
    counted INTEGER NOT NULL CONSTRAINT ck_sharps_containers_counted CHECK ("counted" >= 0),
    closed_on TEXT CONSTRAINT ck_sharps_containers_closed_on CHECK (closed_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    handed_in_on TEXT CONSTRAINT ck_sharps_containers_handed_in_on CHECK (handed_in_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    note TEXT NOT NULL,
    digest BLOB NOT NULL CONSTRAINT ck_sharps_containers_digest CHECK (length(digest) = 32),
    CONSTRAINT pk_sharps_containers PRIMARY KEY (id)
)
 STRICT;

CREATE TABLE supplies (
    id TEXT NOT NULL CONSTRAINT ck_supplies_id CHECK (length(id) = 36),
    kind TEXT NOT NULL CONSTRAINT ck_supplies_kind CHECK (kind IN ('strips', 'lancets', 'control_solution', 'batteries', 'pen_needles', 'sharps_container', 'other')),
    exact_type TEXT NOT NULL,
    written_at INTEGER NOT NULL,
    count INTEGER CONSTRAINT ck_supplies_count CHECK ("count" >= 0),
    counted_on TEXT CONSTRAINT ck_supplies_counted_on CHECK (counted_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    ended_on TEXT CONSTRAINT ck_supplies_ended_on CHECK (ended_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    meter_id TEXT CONSTRAINT ck_supplies_meter_id CHECK (length(meter_id) = 36),
    digest BLOB NOT NULL CONSTRAINT ck_supplies_digest CHECK (length(digest) = 32),
    CONSTRAINT pk_supplies PRIMARY KEY (id),
    CONSTRAINT fk_supplies_meter_id FOREIGN KEY(meter_id) REFERENCES meters (id) DEFERRABLE INITIALLY DEFERRED
)
 STRICT;

CREATE TABLE ticks (
    id TEXT NOT NULL CONSTRAINT ck_ticks_id CHECK (length(id) = 36),
    about TEXT NOT NULL CONSTRAINT ck_ticks_about CHECK (about IN ('insulin', 'low_causing_tablets', 'sglt2_inhibitor', 'slows_sugar', 'steroid_now', 'beta_blocker', 'blood_thinner', 'anaemia', 'thick_blood', 'haemodialysis', 'icodextrin', 'vitamin_c', 'poor_circulation', 'haemolysis', 'kidney_or_liver', 'transfusion', 'erythropoietin', 'iron_deficiency')),
    told TEXT NOT NULL CONSTRAINT ck_ticks_told CHECK (told IN ('yes', 'no', 'not_sure')),
    holds_from TEXT NOT NULL CONSTRAINT ck_ticks_holds_from CHECK (holds_from GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    written_at INTEGER NOT NULL,
    digest BLOB NOT NULL CONSTRAINT ck_ticks_digest CHECK (length(digest) = 32),
    CONSTRAINT pk_ticks PRIMARY KEY (id)
)
 STRICT;

CREATE TABLE lab_comparisons (
    id TEXT NOT NULL CONSTRAINT ck_lab_comparisons_id CHECK (length(id) = 36),
    meter_id TEXT CONSTRAINT ck_lab_comparisons_meter_id CHECK (length(meter_id) = 36),
    instant INTEGER NOT NULL,
    offset_seconds INTEGER NOT NULL CONSTRAINT ck_lab_comparisons_offset_seconds CHECK (offset_seconds BETWEEN -86399 AND 86399),
    zone TEXT NOT NULL,
    zone_assumed INTEGER NOT NULL CONSTRAINT ck_lab_comparisons_zone_assumed CHECK (zone_assumed IN (0, 1)),
    wall_minute INTEGER NOT NULL CONSTRAINT ck_lab_comparisons_wall_minute CHECK (instant + offset_seconds * 1000000 - wall_minute * 60000000 BETWEEN 0 AND 59999999),
    written_at INTEGER NOT NULL,
    unit TEXT NOT NULL CONSTRAINT ck_lab_comparisons_unit CHECK (unit IN ('mg/dL', 'mmol/L')),
    kind TEXT NOT NULL CONSTRAINT ck_lab_comparisons_kind CHECK (kind IN ('number', 'reads_low', 'reads_high')),
    steps INTEGER NOT NULL CONSTRAINT ck_lab_comparisons_steps CHECK ((kind = 'number' AND unit = 'mg/dL' AND steps BETWEEN 10 AND 1000) OR (kind = 'number' AND unit = 'mmol/L' AND steps BETWEEN 6 AND 550) OR (kind = 'reads_low' AND steps = -1) OR (kind = 'reads_high' AND steps = 1000000)),
    written TEXT NOT NULL,
    laboratory_unit TEXT NOT NULL CONSTRAINT ck_lab_comparisons_laboratory_unit CHECK (laboratory_unit IN ('mg/dL', 'mmol/L')),
    laboratory_kind TEXT NOT NULL CONSTRAINT ck_lab_comparisons_laboratory_kind CHECK (laboratory_kind IN ('number', 'reads_low', 'reads_high')),
    laboratory_steps INTEGER NOT NULL CONSTRAINT ck_lab_comparisons_laboratory_steps CHECK ((laboratory_kind = 'number' AND laboratory_unit = 'mg/dL' AND laboratory_steps BETWEEN 10 AND 1000) OR (laboratory_kind = 'number' AND laboratory_unit = 'mmol/L' AND laboratory_steps BETWEEN 6 AND 550) OR (laboratory_kind = 'reads_low' AND laboratory_steps = -1) OR (laboratory_kind = 'reads_high' AND laboratory_steps = 1000000)),
    laboratory_written TEXT NOT NULL,
    minutes_apart INTEGER,
    was_fasting INTEGER CONSTRAINT ck_lab_comparisons_was_fasting CHECK (was_fasting IN (0, 1)),
    note TEXT NOT NULL,
    crossed_out_at INTEGER,
    digest BLOB NOT NULL CONSTRAINT ck_lab_comparisons_digest CHECK (length(digest) = 32),
    CONSTRAINT pk_lab_comparisons PRIMARY KEY (id),
    CONSTRAINT fk_lab_comparisons_meter_id FOREIGN KEY(meter_id) REFERENCES meters (id) DEFERRABLE INITIALLY DEFERRED
)
 STRICT;

CREATE TABLE meter_averages (
    id TEXT NOT NULL CONSTRAINT ck_meter_averages_id CHECK (length(id) = 36),
    meter_id TEXT CONSTRAINT ck_meter_averages_meter_id CHECK (length(meter_id) = 36),
    instant INTEGER NOT NULL,
    offset_seconds INTEGER NOT NULL CONSTRAINT ck_meter_averages_offset_seconds CHECK (offset_seconds BETWEEN -86399 AND 86399),
    zone TEXT NOT NULL,
    zone_assumed INTEGER NOT NULL CONSTRAINT ck_meter_averages_zone_assumed CHECK (zone_assumed IN (0, 1)),
    wall_minute INTEGER NOT NULL CONSTRAINT ck_meter_averages_wall_minute CHECK (instant + offset_seconds * 1000000 - wall_minute * 60000000 BETWEEN 0 AND 59999999),
    written_at INTEGER NOT NULL,
    days INTEGER NOT NULL CONSTRAINT ck_meter_averages_days CHECK ("days" >= 1),
    unit TEXT NOT NULL CONSTRAINT ck_meter_averages_unit CHECK (unit IN ('mg/dL', 'mmol/L')),
    kind TEXT NOT NULL CONSTRAINT ck_meter_averages_kind CHECK (kind IN ('number', 'reads_low', 'reads_high')),
    steps INTEGER NOT NULL CONSTRAINT ck_meter_averages_steps CHECK ((kind = 'number' AND unit = 'mg/dL' AND steps BETWEEN 10 AND 1000) OR (kind = 'number' AND unit = 'mmol/L' AND steps BETWEEN 6 AND 550) OR (kind = 'reads_low' AND steps = -1) OR (kind = 'reads_high' AND steps = 1000000)),
    written TEXT NOT NULL,
    count INTEGER CONSTRAINT ck_meter_averages_count CHECK ("count" >= 0),
    crossed_out_at INTEGER,
    digest BLOB NOT NULL CONSTRAINT ck_meter_averages_digest CHECK (length(digest) = 32),
    CONSTRAINT pk_meter_averages PRIMARY KEY (id),
    CONSTRAINT fk_meter_averages_meter_id FOREIGN KEY(meter_id) REFERENCES meters (id) DEFERRABLE INITIALLY DEFERRED
)
 STRICT;

CREATE TABLE meter_events (
    id TEXT NOT NULL CONSTRAINT ck_meter_events_id CHECK (length(id) = 36),
    meter_id TEXT NOT NULL CONSTRAINT ck_meter_events_meter_id CHECK (length(meter_id) = 36),
    what TEXT NOT NULL CONSTRAINT ck_meter_events_what CHECK (what IN ('first_used', 'dropped', 'damaged', 'battery_changed', 'not_believed', 'cleaned', 'clock_checked', 'not_for_decisions', 'fit_again')),
    instant INTEGER NOT NULL,
    offset_seconds INTEGER NOT NULL CONSTRAINT ck_meter_events_offset_seconds CHECK (offset_seconds BETWEEN -86399 AND 86399),
    zone TEXT NOT NULL,
    zone_assumed INTEGER NOT NULL CONSTRAINT ck_meter_events_zone_assumed CHECK (zone_assumed IN (0, 1)),
    wall_minute INTEGER NOT NULL CONSTRAINT ck_meter_events_wall_minute CHECK (instant + offset_seconds * 1000000 - wall_minute * 60000000 BETWEEN 0 AND 59999999),
    written_at INTEGER NOT NULL,
    clock_ahead_minutes INTEGER,
    note TEXT NOT NULL,
    crossed_out_at INTEGER,
    digest BLOB NOT NULL CONSTRAINT ck_meter_events_digest CHECK (length(digest) = 32),
    CONSTRAINT pk_meter_events PRIMARY KEY (id),
    CONSTRAINT fk_meter_events_meter_id FOREIGN KEY(meter_id) REFERENCES meters (id) DEFERRABLE INITIALLY DEFERRED
)
 STRICT;

CREATE TABLE vials (
    id TEXT NOT NULL CONSTRAINT ck_vials_id CHECK (length(id) = 36),
    meter_id TEXT CONSTRAINT ck_vials_meter_id CHECK (length(meter_id) = 36),
    count INTEGER NOT NULL CONSTRAINT ck_vials_count CHECK ("count" >= 0),
    written_at INTEGER NOT NULL,
    packing TEXT NOT NULL CONSTRAINT ck_vials_packing CHECK (packing IN ('vial', 'singles', 'drum')),
    lot TEXT NOT NULL,
    code TEXT NOT NULL,
    expires TEXT CONSTRAINT ck_vials_expires CHECK (expires GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]' OR expires GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    after_opening TEXT CONSTRAINT ck_vials_after_opening CHECK (after_opening GLOB '[1-9]*[dm]' AND after_opening NOT GLOB '*[^0-9]*[dm]'),
    opened_at INTEGER,
    opened_on TEXT CONSTRAINT ck_vials_opened_on CHECK (opened_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
    ended_at INTEGER,
    why_ended TEXT CONSTRAINT ck_vials_why_ended CHECK (why_ended IN ('empty', 'out_of_date', 'damaged', 'failed_control', 'lost')),
    ranges TEXT NOT NULL CONSTRAINT ck_vials_ranges CHECK ("ranges" = '' OR "ranges" GLOB '[[]*]'),
    digest BLOB NOT NULL CONSTRAINT ck_vials_digest CHECK (length(digest) = 32),
    CONSTRAINT pk_vials PRIMARY KEY (id),
    CONSTRAINT fk_vials_meter_id FOREIGN KEY(meter_id) REFERENCES meters (id) DEFERRABLE INITIALLY DEFERRED
)
 STRICT;

CREATE TABLE control_tests (
    id TEXT NOT NULL CONSTRAINT ck_control_tests_id CHECK (length(id) = 36),
    instant INTEGER NOT NULL,
    offset_seconds INTEGER NOT NULL CONSTRAINT ck_control_tests_offset_seconds CHECK (offset_seconds BETWEEN -86399 AND 86399),
    zone TEXT NOT NULL,
    zone_assumed INTEGER NOT NULL CONSTRAINT ck_control_tests_zone_assumed CHECK (zone_assumed IN (0, 1)),
    wall_minute INTEGER NOT NULL CONSTRAINT ck_control_tests_wall_minute CHECK (instant + offset_seconds * 1000000 - wall_minute * 60000000 BETWEEN 0 AND 59999999),
    written_at INTEGER NOT NULL,
    meter_id TEXT CONSTRAINT ck_control_tests_meter_id CHECK (length(meter_id) = 36),
    vial_id TEXT CONSTRAINT ck_control_tests_vial_id CHECK (length(vial_id) = 36),
    bottle_id TEXT CONSTRAINT ck_control_tests_bottle_id CHECK (length(bottle_id) = 36),
    level TEXT NOT NULL,
    unit TEXT NOT NULL CONSTRAINT ck_control_tests_unit CHECK (unit IN ('mg/dL', 'mmol/L')),
    kind TEXT NOT NULL CONSTRAINT ck_control_tests_kind CHECK (kind IN ('number', 'reads_low', 'reads_high')),
    steps INTEGER NOT NULL CONSTRAINT ck_control_tests_steps CHECK ((kind = 'number' AND unit = 'mg/dL' AND steps BETWEEN 10 AND 1000) OR (kind = 'number' AND unit = 'mmol/L' AND steps BETWEEN 6 AND 550) OR (kind = 'reads_low' AND steps = -1) OR (kind = 'reads_high' AND steps = 1000000)),
    written TEXT NOT NULL,
    temperature_tenths INTEGER,
    note TEXT NOT NULL,
    crossed_out_at INTEGER,
    digest BLOB NOT NULL CONSTRAINT ck_control_tests_digest CHECK (length(digest) = 32),
    CONSTRAINT pk_control_tests PRIMARY KEY (id),
    CONSTRAINT fk_control_tests_meter_id FOREIGN KEY(meter_id) REFERENCES meters (id) DEFERRABLE INITIALLY DEFERRED,
    CONSTRAINT fk_control_tests_vial_id FOREIGN KEY(vial_id) REFERENCES vials (id) DEFERRABLE INITIALLY DEFERRED,
    CONSTRAINT fk_control_tests_bottle_id FOREIGN KEY(bottle_id) REFERENCES control_bottles (id) DEFERRABLE INITIALLY DEFERRED
)
 STRICT;

CREATE TABLE strip_counts (
    id TEXT NOT NULL CONSTRAINT ck_strip_counts_id CHECK (length(id) = 36),
    vial_id TEXT NOT NULL CONSTRAINT ck_strip_counts_vial_id CHECK (length(vial_id) = 36),
    instant INTEGER NOT NULL,
    offset_seconds INTEGER NOT NULL CONSTRAINT ck_strip_counts_offset_seconds CHECK (offset_seconds BETWEEN -86399 AND 86399),
    zone TEXT NOT NULL,
    zone_assumed INTEGER NOT NULL CONSTRAINT ck_strip_counts_zone_assumed CHECK (zone_assumed IN (0, 1)),
    wall_minute INTEGER NOT NULL CONSTRAINT ck_strip_counts_wall_minute CHECK (instant + offset_seconds * 1000000 - wall_minute * 60000000 BETWEEN 0 AND 59999999),
    written_at INTEGER NOT NULL,
    "left" INTEGER NOT NULL CONSTRAINT ck_strip_counts_left CHECK ("left" >= 0),
    crossed_out_at INTEGER,
    digest BLOB NOT NULL CONSTRAINT ck_strip_counts_digest CHECK (length(digest) = 32),
    CONSTRAINT pk_strip_counts PRIMARY KEY (id),
    CONSTRAINT fk_strip_counts_vial_id FOREIGN KEY(vial_id) REFERENCES vials (id) DEFERRABLE INITIALLY DEFERRED
)
 STRICT;
