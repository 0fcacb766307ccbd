-- Own blends: the recipe as its author wrote it, what it was classified as when it was last worked out, and with which
-- suppliers' sheets. redo is when one of those sheets changed since.
CREATE TABLE blends (
    id @text PRIMARY KEY, version BIGINT NOT NULL, seq BIGINT NOT NULL, added @text NOT NULL, changed @text NOT NULL, retired @text NOT NULL, retired_why @text NOT NULL,
    name @text NOT NULL,
    revision BIGINT NOT NULL,
    recipe @text NOT NULL,
    note @text NOT NULL,
    uses @text NOT NULL,
    classes @text NOT NULL,
    redo @text NOT NULL,
    redo_why @text NOT NULL
);
CREATE INDEX blends_seq ON blends (retired, seq);
