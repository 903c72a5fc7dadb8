CREATE TABLE disagreements (
    id TEXT NOT NULL CONSTRAINT ck_disagreements_id CHECK (length(id) = 36),
    kind TEXT NOT NULL,
    about TEXT NOT NULL,
    kept TEXT NOT NULL CONSTRAINT ck_disagreements_kept CHECK ("kept" = '' OR "kept" GLOB '{*}'),
    other TEXT NOT NULL CONSTRAINT ck_disagreements_other CHECK ("other" = '' OR "other" GLOB '{*}'),
    settled_at INTEGER,
    digest BLOB NOT NULL CONSTRAINT ck_disagreements_digest CHECK (length(digest) = 32),
    CONSTRAINT pk_disagreements PRIMARY KEY (id)
)
 STRICT;
