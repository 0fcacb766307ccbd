-- What lists, totals and what is due need of each product, in one narrow row, so that none of them reads whole sheets. The
-- view says what the row is; the transaction that changes a product, its sheet in force or its supplier makes the row anew.
CREATE VIEW listed_now AS
SELECT p.id AS product_id,
       CASE p.retired WHEN '' THEN 0 ELSE 1 END AS retired,
       CASE WHEN p.parts IN ('null', '[]') THEN 0 ELSE 1 END AS kit,
       p.seq AS seq,
       p.name AS name,
       p.folded AS folded,
       COALESCE(p.supplier_id, '') AS supplier_id,
       COALESCE(u.folded, '') AS supplier,
       p.review_due AS review_due,
       CASE p.review_due WHEN '' THEN '9999' ELSE p.review_due END AS review_order,
       COALESCE(p.sheet_id, '') AS sheet_id,
       COALESCE(h.seq, 0) AS sheet_seq,
       COALESCE(h.added, '') AS sheet_added,
       COALESCE(h.signal_word, '') AS signal_word,
       COALESCE(h.pictograms, '') AS pictograms,
       COALESCE(h.statements, '') AS statements,
       COALESCE(h.rule_set, '') AS rule_set,
       COALESCE(h.revision_date, '') AS revision_date,
       COALESCE(h.contradictions, 0) AS contradictions,
       COALESCE(h.gaps, 0) AS gaps,
       COALESCE(h.checks, '') AS checks,
       COALESCE(h.judged, '') AS judged,
       CASE WHEN COALESCE(h.changes, '') LIKE '%"direction":"sterner"%' THEN 1 ELSE 0 END AS sterner,
       COALESCE(h.hazards, '') AS hazards,
       COALESCE(h.groups, '') AS groups,
       COALESCE(h.flammable, '') AS flammable,
       h.density AS density
FROM products p LEFT JOIN sheets h ON h.id = p.sheet_id LEFT JOIN suppliers u ON u.id = p.supplier_id;

CREATE TABLE listed (
    product_id @text PRIMARY KEY,
    retired BIGINT NOT NULL,
    kit BIGINT NOT NULL,
    seq BIGINT NOT NULL,
    name @text NOT NULL,
    folded @text NOT NULL,
    supplier_id @text NOT NULL,
    supplier @text NOT NULL,
    review_due @text NOT NULL,
    review_order @text NOT NULL,
    sheet_id @text NOT NULL,
    sheet_seq BIGINT NOT NULL,
    sheet_added @text NOT NULL,
    signal_word @text NOT NULL,
    pictograms @text NOT NULL,
    statements @text NOT NULL,
    rule_set @text NOT NULL,
    revision_date @text NOT NULL,
    contradictions BIGINT NOT NULL,
    gaps BIGINT NOT NULL,
    checks @text NOT NULL,
    judged @text NOT NULL,
    sterner BIGINT NOT NULL,
    hazards @text NOT NULL,
    groups @text NOT NULL,
    flammable @text NOT NULL,
    density DOUBLE PRECISION
)@clustered;
INSERT INTO listed SELECT * FROM listed_now;
-- Nearly all products are on the shelf: an index by retired would look selective to an engine and is not.
CREATE INDEX listed_name ON listed (folded, product_id) WHERE retired = 0;
CREATE INDEX listed_change ON listed (seq) WHERE retired = 0;
CREATE INDEX listed_worst ON listed (contradictions DESC, gaps DESC, folded, product_id) WHERE retired = 0;
CREATE INDEX listed_review ON listed (review_order, folded, product_id) WHERE retired = 0;
CREATE INDEX listed_oldest ON listed (revision_date, folded, product_id) WHERE retired = 0;
CREATE INDEX listed_supplier ON listed (supplier, folded, product_id) WHERE retired = 0;
CREATE INDEX listed_filters ON listed (checks, signal_word, flammable, rule_set, contradictions, kit, supplier_id, review_order, sheet_id, pictograms, statements) WHERE retired = 0; -- all that filters ask, for counting
CREATE INDEX listed_sterner ON listed (product_id) WHERE sterner = 1;
CREATE INDEX listed_without ON listed (folded, product_id) WHERE sheet_id = '';
CREATE INDEX listed_kits ON listed (folded, product_id) WHERE kit = 1;

-- How many there are of what pages count, kept by the same transactions.
CREATE VIEW tally_now AS
SELECT 'sheet ' || state AS what, COUNT(*) AS n FROM sheets WHERE retired = '' GROUP BY state
UNION ALL
SELECT CASE retired WHEN '' THEN 'product' ELSE 'product retired' END AS what, COUNT(*) AS n FROM products GROUP BY CASE retired WHEN '' THEN 'product' ELSE 'product retired' END;
CREATE TABLE tally (
    what @text PRIMARY KEY,
    n BIGINT NOT NULL
);
INSERT INTO tally SELECT * FROM tally_now;

DROP INDEX sheets_state;
CREATE INDEX sheets_state ON sheets (state, retired, product_id);
CREATE INDEX papers_outdated ON papers (retired, outdated, seq);
CREATE INDEX papers_seq ON papers (retired, seq);
CREATE INDEX stock_expires ON stock (expires) WHERE expires <> '' AND retired = '';
