-- Full text: three-letter pieces of the folded words, so that parts of names and numbers are found.
CREATE EXTENSION IF NOT EXISTS pg_trgm;
CREATE TABLE found (
    kind TEXT COLLATE "C" NOT NULL,
    ref TEXT COLLATE "C" NOT NULL,
    title TEXT COLLATE "C" NOT NULL,
    folded TEXT COLLATE "C" NOT NULL,
    body TEXT COLLATE "C" NOT NULL,
    PRIMARY KEY (kind, ref)
);
CREATE INDEX found_folded ON found USING gin (folded gin_trgm_ops);
CREATE INDEX found_body ON found USING gin (body gin_trgm_ops);
