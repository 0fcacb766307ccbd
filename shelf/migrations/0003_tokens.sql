-- Keys with which programs work on the shelf in a user's name. Only their hashes are kept.
CREATE TABLE tokens (
    id @text PRIMARY KEY, version BIGINT NOT NULL, seq BIGINT NOT NULL, added @text NOT NULL, changed @text NOT NULL, retired @text NOT NULL, retired_why @text NOT NULL,
    user_id @text NOT NULL REFERENCES users (id),
    name @text NOT NULL,
    role @text NOT NULL,
    expires @text NOT NULL,
    hash @text NOT NULL UNIQUE
);
CREATE INDEX tokens_user ON tokens (user_id);
CREATE INDEX logins_origin ON logins (origin, seq);
