/**
 * The tables, one entry a version: a store that is behind runs what it lacks, in order. Entries are never changed once
 * released.
 */
export const migrations: readonly string[] = [
  `
CREATE TABLE boards (id TEXT PRIMARY KEY, made_at TEXT NOT NULL) STRICT;
CREATE TABLE areas (
  board TEXT NOT NULL REFERENCES boards ON DELETE CASCADE, area TEXT NOT NULL,
  head INTEGER NOT NULL, snapshot BLOB, through INTEGER NOT NULL DEFAULT 0,
  PRIMARY KEY (board, area)
) STRICT;
CREATE TABLE updates (
  board TEXT NOT NULL, area TEXT NOT NULL, number INTEGER NOT NULL, bytes BLOB NOT NULL,
  PRIMARY KEY (board, area, number),
  FOREIGN KEY (board, area) REFERENCES areas ON DELETE CASCADE
) STRICT, WITHOUT ROWID;
CREATE TABLE claims (
  board TEXT NOT NULL, area TEXT NOT NULL, client INTEGER NOT NULL, membership TEXT NOT NULL,
  PRIMARY KEY (board, area, client),
  FOREIGN KEY (board, area) REFERENCES areas ON DELETE CASCADE
) STRICT, WITHOUT ROWID;
CREATE TABLE links (
  id TEXT PRIMARY KEY, board TEXT NOT NULL REFERENCES boards ON DELETE CASCADE, role TEXT NOT NULL,
  hash TEXT NOT NULL UNIQUE, made_at TEXT NOT NULL, ends_at TEXT, revoked_at TEXT
) STRICT;
CREATE INDEX links_of_board ON links (board);
CREATE TABLE sessions (hash TEXT PRIMARY KEY, made_at TEXT NOT NULL, instructor_until TEXT) STRICT;
CREATE TABLE grants (
  session TEXT NOT NULL REFERENCES sessions ON DELETE CASCADE, link TEXT NOT NULL REFERENCES links ON DELETE CASCADE,
  PRIMARY KEY (session, link)
) STRICT, WITHOUT ROWID;
CREATE INDEX grants_of_link ON grants (link);
CREATE TABLE files (id TEXT PRIMARY KEY, bytes INTEGER NOT NULL, type TEXT NOT NULL) STRICT;
CREATE TABLE board_files (
  board TEXT NOT NULL REFERENCES boards ON DELETE CASCADE, file TEXT NOT NULL REFERENCES files,
  PRIMARY KEY (board, file)
) STRICT, WITHOUT ROWID;
CREATE INDEX boards_of_file ON board_files (file);
CREATE TABLE calendars (
  hash TEXT PRIMARY KEY, board TEXT NOT NULL REFERENCES boards ON DELETE CASCADE, role TEXT NOT NULL,
  link TEXT REFERENCES links ON DELETE CASCADE, membership TEXT NOT NULL, UNIQUE (board, membership)
) STRICT;
CREATE TABLE settings (key TEXT PRIMARY KEY, value TEXT NOT NULL) STRICT;
`,
  `
CREATE TABLE set_aside (
  board TEXT NOT NULL REFERENCES boards ON DELETE CASCADE, area TEXT NOT NULL,
  bytes BLOB NOT NULL, reason TEXT NOT NULL, at TEXT NOT NULL
) STRICT;
CREATE INDEX set_aside_of_board ON set_aside (board);
`,
  `
CREATE TRIGGER head_of_updates BEFORE INSERT ON updates BEGIN
  INSERT INTO areas (board, area, head) VALUES (NEW.board, NEW.area, NEW.number)
    ON CONFLICT DO UPDATE SET head = max(head, NEW.number);
END;
`,
  // The log stays as the area's history. What was there before counts as written now: at the latest, it was.
  `
ALTER TABLE updates ADD COLUMN at TEXT NOT NULL DEFAULT '';
ALTER TABLE updates ADD COLUMN membership TEXT NOT NULL DEFAULT '';
-- When the last update was written that the snapshot holds.
ALTER TABLE areas ADD COLUMN at TEXT NOT NULL DEFAULT '';
-- The log lacks the updates up to this number.
ALTER TABLE areas ADD COLUMN trimmed INTEGER NOT NULL DEFAULT 0;
-- Of the time before nothing is known.
ALTER TABLE areas ADD COLUMN told_from TEXT NOT NULL DEFAULT '';
UPDATE updates SET at = strftime('%Y-%m-%dT%H:%M:%fZ', 'now');
UPDATE areas SET trimmed = through, told_from = strftime('%Y-%m-%dT%H:%M:%fZ', 'now'),
  at = strftime('%Y-%m-%dT%H:%M:%fZ', 'now');
-- Snapshots that later ones replaced.
CREATE TABLE bases (
  board TEXT NOT NULL, area TEXT NOT NULL, through INTEGER NOT NULL, at TEXT NOT NULL, bytes BLOB NOT NULL,
  PRIMARY KEY (board, area, through),
  FOREIGN KEY (board, area) REFERENCES areas ON DELETE CASCADE
) STRICT;
ALTER TABLE links ADD COLUMN parent TEXT;
ALTER TABLE links ADD COLUMN frozen_at TEXT;
CREATE INDEX links_of_parent ON links (parent);
`,
  // What the studio's list shows and goes by, so that it need not open every board.
  'ALTER TABLE boards ADD COLUMN listed TEXT; ALTER TABLE boards ADD COLUMN summary TEXT',
];
