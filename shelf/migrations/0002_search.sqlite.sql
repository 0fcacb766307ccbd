-- Full text: three-letter pieces of the folded words, so that parts of names and numbers are found.
CREATE TABLE found (
    kind TEXT NOT NULL,
    ref TEXT NOT NULL,
    title TEXT NOT NULL,
    folded TEXT NOT NULL,
    body TEXT NOT NULL,
    PRIMARY KEY (kind, ref)
);
CREATE VIRTUAL TABLE found_text USING fts5 (folded, body, content='found', content_rowid='rowid', tokenize='trigram');
CREATE TRIGGER found_added AFTER INSERT ON found BEGIN
    INSERT INTO found_text (rowid, folded, body) VALUES (new.rowid, new.folded, new.body);
END;
CREATE TRIGGER found_removed AFTER DELETE ON found BEGIN
    INSERT INTO found_text (found_text, rowid, folded, body) VALUES ('delete', old.rowid, old.folded, old.body);
END;
CREATE TRIGGER found_changed AFTER UPDATE ON found BEGIN
    INSERT INTO found_text (found_text, rowid, folded, body) VALUES ('delete', old.rowid, old.folded, old.body);
    INSERT INTO found_text (rowid, folded, body) VALUES (new.rowid, new.folded, new.body);
END;
