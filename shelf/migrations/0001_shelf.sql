-- The first schema. @text, @bytes stand for the engine's types; see dialect.go. Moments are RFC 3339 in UTC with a fixed
-- width, days are YYYY-MM-DD; '' is no value. Every order that matters is that of trail.seq, not of a clock.

CREATE TABLE trail (
    seq     BIGINT PRIMARY KEY,
    at      @text NOT NULL,
    who     @text NOT NULL,
    what    @text NOT NULL,
    kind    @text NOT NULL,
    ref     @text NOT NULL,
    title   @text NOT NULL,
    before  @text NOT NULL,
    after   @text NOT NULL,
    note    @text NOT NULL
);
CREATE INDEX trail_of ON trail (kind, ref, seq);

CREATE TABLE settings (
    name  @text PRIMARY KEY,
    value @text NOT NULL
);

CREATE TABLE suppliers (
    id @text PRIMARY KEY, version BIGINT NOT NULL, seq BIGINT NOT NULL, added @text NOT NULL, changed @text NOT NULL, retired @text NOT NULL, retired_why @text NOT NULL,
    name @text NOT NULL,
    folded @text NOT NULL,
    contact @text NOT NULL,
    email @text NOT NULL,
    phone @text NOT NULL,
    emergency @text NOT NULL,
    address @text NOT NULL,
    language @text NOT NULL,
    note @text NOT NULL
);
CREATE INDEX suppliers_folded ON suppliers (folded);

CREATE TABLE products (
    id @text PRIMARY KEY, version BIGINT NOT NULL, seq BIGINT NOT NULL, added @text NOT NULL, changed @text NOT NULL, retired @text NOT NULL, retired_why @text NOT NULL,
    name @text NOT NULL,
    folded @text NOT NULL,
    code @text NOT NULL,
    supplier_id @text REFERENCES suppliers (id),
    used_for @text NOT NULL,
    note @text NOT NULL,
    rule_set @text NOT NULL,
    review_months BIGINT NOT NULL,
    review_due @text NOT NULL,
    parts @text NOT NULL,
    parts_by @text NOT NULL,
    sheet_id @text
);
CREATE INDEX products_folded ON products (folded, id);
CREATE INDEX products_supplier ON products (supplier_id);
CREATE INDEX products_review ON products (review_due);

CREATE TABLE places (
    id @text PRIMARY KEY, version BIGINT NOT NULL, seq BIGINT NOT NULL, added @text NOT NULL, changed @text NOT NULL, retired @text NOT NULL, retired_why @text NOT NULL,
    name @text NOT NULL,
    kind @text NOT NULL,
    within @text REFERENCES places (id) DEFERRABLE INITIALLY IMMEDIATE,
    limits @text NOT NULL,
    note @text NOT NULL
);

CREATE TABLE stock (
    id @text PRIMARY KEY, version BIGINT NOT NULL, seq BIGINT NOT NULL, added @text NOT NULL, changed @text NOT NULL, retired @text NOT NULL, retired_why @text NOT NULL,
    product_id @text NOT NULL REFERENCES products (id),
    place_id @text NOT NULL REFERENCES places (id),
    amount DOUBLE PRECISION,
    unit @text NOT NULL,
    container @text NOT NULL,
    batch @text NOT NULL,
    opened @text NOT NULL,
    expires @text NOT NULL,
    note @text NOT NULL
);
CREATE INDEX stock_product ON stock (product_id);
CREATE INDEX stock_place ON stock (place_id);

CREATE TABLE documents (
    sha256 @text PRIMARY KEY,
    name @text NOT NULL,
    bytes BIGINT NOT NULL,
    added @text NOT NULL,
    by_whom @text NOT NULL
);

CREATE TABLE sheets (
    id @text PRIMARY KEY, version BIGINT NOT NULL, seq BIGINT NOT NULL, added @text NOT NULL, changed @text NOT NULL, retired @text NOT NULL, retired_why @text NOT NULL,
    product_id @text REFERENCES products (id),
    document @text NOT NULL REFERENCES documents (sha256),
    file_name @text NOT NULL,
    state @text NOT NULL,
    failure @text NOT NULL,
    attempts BIGINT NOT NULL,
    worker @text NOT NULL,
    supersedes @text REFERENCES sheets (id) DEFERRABLE INITIALLY IMMEDIATE,
    changes @text NOT NULL,
    name @text NOT NULL,
    supplier @text NOT NULL,
    language @text NOT NULL,
    rule_set @text NOT NULL,
    revision_date @text NOT NULL,
    revision @text NOT NULL,
    signal_word @text NOT NULL,
    pictograms @text NOT NULL,
    statements @text NOT NULL,
    hazards @text NOT NULL,
    groups @text NOT NULL,
    flammable @text NOT NULL,
    flash_c DOUBLE PRECISION,
    density DOUBLE PRECISION,
    found_by @text NOT NULL,
    contradictions BIGINT NOT NULL,
    gaps BIGINT NOT NULL,
    doubts BIGINT NOT NULL,
    notes BIGINT NOT NULL,
    overruled BIGINT NOT NULL,
    checks @text NOT NULL,
    judged @text NOT NULL
);
CREATE INDEX sheets_product ON sheets (product_id, seq);
CREATE INDEX sheets_document ON sheets (document);
CREATE INDEX sheets_state ON sheets (state);

-- What was read from a document, without any correction, and the judgement of each sheet: large, so kept apart from the lists.
CREATE TABLE readings (
    document @text PRIMARY KEY REFERENCES documents (sha256),
    reader @text NOT NULL,
    at @text NOT NULL,
    body @bytes NOT NULL
);
CREATE TABLE judgements (
    sheet_id @text PRIMARY KEY REFERENCES sheets (id),
    checks @text NOT NULL,
    at @text NOT NULL,
    body @bytes NOT NULL
);

CREATE TABLE corrections (
    id @text PRIMARY KEY, version BIGINT NOT NULL, seq BIGINT NOT NULL, added @text NOT NULL, changed @text NOT NULL, retired @text NOT NULL, retired_why @text NOT NULL,
    document @text NOT NULL,
    path @text NOT NULL,
    value @text NOT NULL,
    who @text NOT NULL,
    why @text NOT NULL,
    at @text NOT NULL
);
CREATE INDEX corrections_document ON corrections (document, seq);

CREATE TABLE overrulings (
    id @text PRIMARY KEY, version BIGINT NOT NULL, seq BIGINT NOT NULL, added @text NOT NULL, changed @text NOT NULL, retired @text NOT NULL, retired_why @text NOT NULL,
    document @text NOT NULL,
    finding @text NOT NULL,
    who @text NOT NULL,
    why @text NOT NULL,
    at @text NOT NULL
);
CREATE INDEX overrulings_document ON overrulings (document, seq);

CREATE TABLE questions (
    id @text PRIMARY KEY, version BIGINT NOT NULL, seq BIGINT NOT NULL, added @text NOT NULL, changed @text NOT NULL, retired @text NOT NULL, retired_why @text NOT NULL,
    product_id @text REFERENCES products (id),
    sheet_id @text REFERENCES sheets (id),
    supplier_id @text REFERENCES suppliers (id),
    findings @text NOT NULL,
    language @text NOT NULL,
    question @text NOT NULL,
    answer @text NOT NULL,
    sent @text NOT NULL,
    answered @text NOT NULL,
    closed @text NOT NULL
);
CREATE INDEX questions_product ON questions (product_id);
CREATE INDEX questions_open ON questions (closed, seq);

CREATE TABLE jobs (
    id @text PRIMARY KEY, version BIGINT NOT NULL, seq BIGINT NOT NULL, added @text NOT NULL, changed @text NOT NULL, retired @text NOT NULL, retired_why @text NOT NULL,
    name @text NOT NULL,
    place_id @text REFERENCES places (id),
    products @text NOT NULL,
    description @text NOT NULL,
    result @text NOT NULL,
    computed @text NOT NULL
);

CREATE TABLE papers (
    id @text PRIMARY KEY, version BIGINT NOT NULL, seq BIGINT NOT NULL, added @text NOT NULL, changed @text NOT NULL, retired @text NOT NULL, retired_why @text NOT NULL,
    kind @text NOT NULL,
    title @text NOT NULL,
    product_id @text REFERENCES products (id),
    sheet_id @text REFERENCES sheets (id),
    job_id @text REFERENCES jobs (id),
    language @text NOT NULL,
    size @text NOT NULL,
    copies BIGINT NOT NULL,
    options @text NOT NULL,
    outdated @text NOT NULL,
    outdated_by @text NOT NULL
);
CREATE INDEX papers_product ON papers (product_id);
CREATE INDEX papers_sheet ON papers (sheet_id);

CREATE TABLE acknowledgements (
    id @text PRIMARY KEY, version BIGINT NOT NULL, seq BIGINT NOT NULL, added @text NOT NULL, changed @text NOT NULL, retired @text NOT NULL, retired_why @text NOT NULL,
    paper_id @text NOT NULL REFERENCES papers (id),
    person @text NOT NULL,
    at @text NOT NULL
);
CREATE INDEX acknowledgements_paper ON acknowledgements (paper_id);

CREATE TABLE users (
    id @text PRIMARY KEY, version BIGINT NOT NULL, seq BIGINT NOT NULL, added @text NOT NULL, changed @text NOT NULL, retired @text NOT NULL, retired_why @text NOT NULL,
    name @text NOT NULL UNIQUE,
    full_name @text NOT NULL,
    role @text NOT NULL,
    password @text NOT NULL,
    preferences @text NOT NULL
);

CREATE TABLE sessions (
    token @text PRIMARY KEY,
    user_id @text NOT NULL REFERENCES users (id),
    begun @text NOT NULL,
    seen @text NOT NULL,
    expires @text NOT NULL,
    agent @text NOT NULL
);
CREATE INDEX sessions_user ON sessions (user_id);

CREATE TABLE logins (
    seq BIGINT PRIMARY KEY,
    at @text NOT NULL,
    name @text NOT NULL,
    origin @text NOT NULL,
    accepted BIGINT NOT NULL
);
CREATE INDEX logins_name ON logins (name, seq);

-- Which processes read documents at present; a document claimed by one that is gone is read again.
CREATE TABLE workers (
    id @text PRIMARY KEY,
    beat BIGINT NOT NULL
);

-- Every word by which something can be found, so that a misspelt one can be replaced by its neighbours.
CREATE TABLE vocabulary (
    word @text PRIMARY KEY,
    seq BIGINT NOT NULL
);
CREATE INDEX vocabulary_seq ON vocabulary (seq);
